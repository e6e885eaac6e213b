// Something that a person can do: by its key, or found by its words in the list of all (F1).
#pragma once

#include <string_view>
#include <vector>

#include "bench/widgets/keys.h"

namespace coilbook::bench {

struct Action {
    std::string_view name;    // never changes: "confirm"
    std::string_view says;    // what it does: "Confirm what the coil is"
    Chord chord;              // key 0: it has none
    bool is_possible = true;  // just now; else it is shown faintly and does nothing

    bool operator==(const Action&) const = default;
};

// A page keeps its actions in one table, whose entries have an `action`, `is_possible(seen...)` and
// `run(at)`; `seen` and `at` are the page's own. These three are all that is done with a table.

// All of them, as they are just now.
template <class Entries, class... Seen>
[[nodiscard]] std::vector<Action> offered(const Entries& entries, Seen&... seen) {
    std::vector<Action> actions;
    for (const auto& entry : entries) {
        actions.push_back(entry.action);
        actions.back().is_possible = entry.is_possible(seen...);
    }
    return actions;
}

// Does the one of that name, if it is possible; nothing for an unknown name.
template <class Entries, class At, class... Seen>
void do_by_name(const Entries& entries, std::string_view name, At&& at, Seen&... seen) {
    for (const auto& entry : entries) {
        if (entry.action.name == name && entry.is_possible(seen...)) entry.run(at);
    }
}

// Calls `perform` with the name of each whose key went down in this frame.
template <class Entries, class Perform>
void watch_chords(const Entries& entries, const Perform& perform) {
    for (const auto& entry : entries) {
        if (entry.action.chord.key != 0 && pressed(entry.action.chord)) perform(entry.action.name);
    }
}

}  // namespace coilbook::bench
