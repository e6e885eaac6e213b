// Custody: where each thing is, told by a record of handovers that only grows.
//
// A handover says where one coil or rig is from then on. The last one counts, so a thing is always
// in one place and never in none: what was never handed anywhere is in the bin. What is in a rig
// goes where the rig goes.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/id.h"
#include "base/instant.h"
#include "base/result.h"
#include "catalog/coil.h"
#include "catalog/outing.h"
#include "catalog/rig.h"

namespace coilbook {

enum class Whereabouts {
    bin,
    boat,     // out with a boat
    rig,      // strung on a rig, or in its wallet
    lent,     // to somebody
    lost,     // nobody knows
    damaged,  // here, but not to be used
    retired,  // thrown away, used up
};
enum class RigRole { head, tip, leader, wallet };

[[nodiscard]] std::string_view name_of(Whereabouts where);  // "boat"
[[nodiscard]] std::string_view name_of(RigRole role);       // "wallet"
[[nodiscard]] Result<Whereabouts> whereabouts_from(std::string_view name);
[[nodiscard]] Result<RigRole> rig_role_from(std::string_view name);

// Whether a thing that is there can be handed out: it is here and whole.
[[nodiscard]] bool is_at_hand(Whereabouts where);

struct Place {
    Whereabouts where = Whereabouts::bin;
    std::optional<Id<Boat>> boat = {};  // with that boat, or lost or damaged from it
    std::optional<Id<Rig>> rig = {};
    std::optional<RigRole> role = {};       // with a rig
    std::optional<Id<Client>> client = {};  // of what is lent, if to a client

    bool operator==(const Place&) const = default;
};

// Coils and rigs are what can be handed over.
using Thing = std::variant<Id<Coil>, Id<Rig>>;
[[nodiscard]] const std::string& id_text_of(const Thing& thing);

struct Handover {
    Id<Handover> id;
    Thing thing;
    Place to;
    Instant at;
    std::string by;  // whose computer says so
    std::string note;
    // How many handovers of the thing there were as far as its maker knew. In a merged catalogue
    // fewer than stand before it say: made apart, without knowing of the others.
    int turn = 0;

    bool operator==(const Handover&) const = default;
};

// Where a thing stands: its last handover, and how many there were.
struct Standing {
    Handover last;
    int handovers = 0;

    // The last one was made without knowing of another that stands before it.
    [[nodiscard]] bool is_disputed() const { return last.turn != handovers - 1; }
};

}  // namespace coilbook
