// The table of the actions of a page that has a desk, and what is done with it.
//
// A page declares `const DeskActions<Desk>& table_of(const Desk&)` beside its Desk; its key, the
// list of all actions (F1) and the tests then go through the three functions here.
#pragma once

#include <string_view>
#include <utility>
#include <vector>

#include "bench/common_commands.h"
#include "bench/widgets/action.h"

namespace coilbook::bench {

template <class Desk>
struct DeskEntry {
    Action action;
    bool (*is_possible)(Desk& desk);
    void (*run)(Desk& desk);
};
template <class Desk>
using DeskActions = std::vector<DeskEntry<Desk>>;

template <class Desk>
bool always(Desk&) {
    return true;
}
template <class Command, class Desk>
void post(Desk& desk) {
    desk.outbox().post(Command{});
}

// The page's own, and those that every page has: undo, redo, and closing what went wrong.
template <class Desk>
[[nodiscard]] DeskActions<Desk> with_common(DeskActions<Desk> own,
                                            void (*undo)(Desk&) = post<Undo, Desk>,
                                            void (*redo)(Desk&) = post<Redo, Desk>) {
    own.push_back({{"undo", "Undo the last change", control('Z')}, always<Desk>, undo});
    own.push_back({{"redo", "Do it again", control_shift('Z')}, always<Desk>, redo});
    own.push_back({{"close failure", "Close the message about what went wrong", plain(key::f8)},
                   [](Desk& desk) { return !desk.view().failure.empty(); },
                   post<CloseFailure, Desk>});
    return own;
}

// All of them, as they are just now.
template <class Desk>
[[nodiscard]] std::vector<Action> actions_of(Desk& desk) {
    return offered(table_of(desk), desk);
}
// Does it, or posts the command for it. Nothing for an unknown name or what cannot be now.
template <class Desk>
void perform(std::string_view action, Desk& desk) {
    do_by_name(table_of(desk), action, desk, desk);
}
// Those whose keys went down in this frame.
template <class Desk>
void watch_keys(Desk& desk) {
    watch_chords(table_of(desk), [&](std::string_view action) { perform(action, desk); });
}

}  // namespace coilbook::bench
