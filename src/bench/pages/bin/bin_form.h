// What is typed and chosen on the page of the bin.
#pragma once

#include <optional>
#include <set>
#include <string>

#include "bench/bin_lines.h"
#include "bench/common_commands.h"
#include "bench/outbox.h"

namespace coilbook::bench::bin_page {

// The field that has the keyboard.
enum class Spot { search, group_name, hand_to };

struct Form {
    std::string looked_for;               // words and a range of weight per foot
    std::optional<app::CoilState> state;  // only these
    Order order;
    bool as_cards = false;       // else as rows
    std::optional<Id<Coil>> at;  // the coil that the keyboard is on
    std::set<Id<Coil>> ticked;
    std::string group_name;  // for the group's line, if it is to be a class
    std::string group_family;
    std::string hand_to;      // the boat or rig that the coils go to
    bool is_handing = false;  // that is asked for
    Spot spot = Spot::search;
    int frames_to_focus = 3;    // above 0: its field is being given the keyboard
    bool is_rewritten = false;  // the search's text was changed in this frame, by a key
    bool scrolls = false;       // to the coil, in this frame

    bool operator==(const Form&) const = default;
};

// The keyboard goes to that field.
inline void go_to(Form& form, Spot spot) {
    form.spot = spot;
    form.frames_to_focus = 3;
}
// Goes to another coil, and brings it into sight.
inline void go_to(Form& form, const Id<Coil>& coil) {
    form.at = coil;
    form.scrolls = true;
}

struct TakeToTheBench {
    Id<Coil> coil;
    bool operator==(const TakeToTheBench&) const = default;
};
// The ticked coils that are ready; without any ticked, the one that the keyboard is on.
struct ConfirmReady {
    bool operator==(const ConfirmReady&) const = default;
};
// Hands the ticked coils, or the one that the keyboard is on, to a boat or into a rig's wallet, in
// one act: all of them or none.
struct HandOut {
    std::string to;  // the boat's name or the rig's code
    bool operator==(const HandOut&) const = default;
};
// A sheet of labels: of those that are ticked, or of the one that the keyboard is on.
struct WriteLabels {
    bool operator==(const WriteLabels&) const = default;
};
struct FindGroups {
    bool operator==(const FindGroups&) const = default;
};
// Makes the line of the group a class of the library.
struct NameGroup {
    std::string name, family;
    bool operator==(const NameGroup&) const = default;
};
using Command = std::variant<TakeToTheBench, ConfirmReady, HandOut, WriteLabels, FindGroups,
                             NameGroup, Undo, Redo, CloseFailure>;

}  // namespace coilbook::bench::bin_page
