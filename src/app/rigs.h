// Rigs: adding them, stringing them, and changing the tip on the water.
#pragma once

#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "app/inventory.h"
#include "app/table.h"
#include "app/workshop.h"
#include "catalog/rig.h"
#include "labels/label.h"

namespace coilbook::app {

// What is told of a new rig; without a code it gets one.
struct RigWords {
    std::string code, name;
    std::optional<LineSize> line_size;
    std::string rod, reel, backing, running_line, notes;
};
[[nodiscard]] Result<Rig> add_rig(Workshop& workshop, const RigWords& words);
// The rig of that id becomes as told: its code, its name, its words. What is strung on it stays.
[[nodiscard]] Result<void> change_rig(Workshop& workshop, const Rig& rig);
[[nodiscard]] Result<Rig> rig_called(Workshop& workshop, std::string_view code);
// Those that are not retired, by code.
[[nodiscard]] std::vector<Rig> rigs(Workshop& workshop);

// Puts coils into the rig, in one act. A tip that was on goes into the wallet. A Problem for a coil
// that is not at hand, or that is in another rig.
[[nodiscard]] Result<void> string_rig(Workshop& workshop, const Rig& rig,
                                      const std::vector<std::string>& codes, RigRole role);

struct TipChange {
    std::optional<std::string> off;  // the code of the tip that went into the wallet
    std::string on;
};
// Puts another tip of the rig's wallet on: the one of that code, or with an empty code the next one
// (rigging/tip_fit.h), so that one key goes through them. A Problem for an empty wallet, and for a
// tip that is not in it.
[[nodiscard]] Result<TipChange> change_tip(Workshop& workshop, const Rig& rig,
                                           std::string_view code = {});

// A coil that is strung on a rig or lies in its wallet.
struct RigPart {
    RigRole role;
    Id<Coil> coil;
    std::string code;
    std::string what;            // its class, as Inventory has it
    std::vector<LineSize> fits;  // rods that can cast it as a tip; none: not known
    bool is_next = false;        // the tip that change_tip would put on
};
// From the reel outwards: head, tip, leaders, and the wallet from the lightest tip to the densest.
[[nodiscard]] std::vector<RigPart> parts_of(Inventory& inventory, const Rig& rig);
// Free tips in the bin that a rod of that size can cast, the densest first.
[[nodiscard]] std::vector<RigPart> tips_for(Inventory& inventory, LineSize size);

// Columns: code, name, line_size, tip, wallet (how many tips), place.
void write_rigs(Workshop& workshop, std::ostream& out, Format format,
                std::size_t terminal_width = 0);
// The parts of one rig, from the reel outwards: part, code, what. Coils with their codes.
[[nodiscard]] Result<void> write_rig(Workshop& workshop, std::string_view code, std::ostream& out,
                                     Format format, std::size_t terminal_width = 0);

// What the rig's label says.
[[nodiscard]] labels::LabelContent label_of_rig(Inventory& inventory, const Rig& rig,
                                                bool with_notes);

}  // namespace coilbook::app
