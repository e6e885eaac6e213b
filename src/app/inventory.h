// Everything that can be handed over, with its name and where it is, as of one moment.
//
// Made once for a command or a page, and asked as often as need be.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/bin.h"
#include "app/workshop.h"
#include "outings/custody_now.h"
#include "outings/plan.h"

namespace coilbook::app {

class Inventory {
  public:
    // Reads the catalogue. Throws Error if it cannot be read.
    explicit Inventory(Workshop& workshop);
    // Reads it anew, and keeps what it worked out of coils that did not change. Throws Error.
    void refresh();

    // The coil or rig of that code, as a person types it. A Problem names the nearest codes.
    [[nodiscard]] Result<Thing> thing_called(std::string_view code);

    [[nodiscard]] const CustodyNow& custody() const { return custody_; }
    [[nodiscard]] const std::vector<Rig>& rigs() const { return rigs_; }
    [[nodiscard]] const std::vector<Boat>& boats() const { return boats_; }  // retired ones, too
    [[nodiscard]] Bin& bin() { return bin_; }

    // Its code; the id where the thing was undone.
    [[nodiscard]] std::string code_of(const Thing& thing);
    // The class that a coil was confirmed as or is surely of; "rig"; "not sure"; "unmeasured".
    [[nodiscard]] std::string class_of(const Thing& thing);
    // What it is, for people: "T-11", "rig, size 8: blue two-hander".
    [[nodiscard]] std::string words_for(const Thing& thing);
    // "in the bin", "with boat Heron", "in the wallet of rig R1", "lost from boat Heron". A client
    // is called by the code.
    [[nodiscard]] std::string words_for(const Place& place);
    [[nodiscard]] std::string boat_name(const Id<Boat>& boat) const;
    [[nodiscard]] std::string client_code(const Id<Client>& client);
    [[nodiscard]] const Rig* rig(const Id<Rig>& id) const;

    // Every coil that is not retired, with what rods it fits as a tip.
    [[nodiscard]] std::vector<KnownCoil> known_coils();
    // The grade that a coil's class has, where the class is sure.
    [[nodiscard]] std::optional<DensityGrade> grade_of(const Id<Coil>& coil);

  private:
    [[nodiscard]] const ReferenceClass* sure_class_of(std::size_t at);

    Workshop& workshop_;
    Bin bin_;
    std::map<Id<Coil>, std::size_t> coils_;  // places in the bin
    std::vector<Rig> rigs_;
    std::vector<Boat> boats_;
    std::map<std::string, const ReferenceClass*> classes_;
    CustodyNow custody_;
};

}  // namespace coilbook::app
