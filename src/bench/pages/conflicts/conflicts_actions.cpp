#include "bench/pages/conflicts/conflicts_actions.h"

#include <array>

namespace coilbook::bench::conflicts_page {
namespace {

struct Entry {
    Action action;
    bool (*is_possible)(Desk& desk);
    void (*run)(Desk& desk);
};

bool always(Desk&) {
    return true;
}
bool with_rows(Desk& desk) {
    return !desk.view().rows.empty();
}
template <int choice>
bool has_choice(Desk& desk) {
    return desk.view().choices.size() >= choice;
}
template <int choice>
void settle_as(Desk& desk) {
    desk.outbox().post(SettleAs{choice});
}

const auto& entries() {
    static const std::array all{
        Entry{{"settle as 1", "The first is right", control('1')}, has_choice<1>, settle_as<1>},
        Entry{{"settle as 2", "The second is right", control('2')}, has_choice<2>, settle_as<2>},
        Entry{{"settle as 3", "The third is right", control('3')}, has_choice<3>, settle_as<3>},
        Entry{{"settle as 4", "The fourth is right", control('4')}, has_choice<4>, settle_as<4>},
        Entry{{"conflict below", "Go to the conflict below", plain(key::down)},
              with_rows,
              [](Desk& desk) { desk.outbox().post(StepConflict{1}); }},
        Entry{{"conflict above", "Go to the conflict above", plain(key::up)},
              with_rows,
              [](Desk& desk) { desk.outbox().post(StepConflict{-1}); }},
        Entry{{"undo", "Undo the last change", control('Z')},
              always,
              [](Desk& desk) { desk.outbox().post(Undo{}); }},
        Entry{{"redo", "Do it again", control_shift('Z')},
              always,
              [](Desk& desk) { desk.outbox().post(Redo{}); }},
        Entry{{"close failure", "Close the message about what went wrong", plain(key::f8)},
              [](Desk& desk) { return !desk.view().failure.empty(); },
              [](Desk& desk) { desk.outbox().post(CloseFailure{}); }},
    };
    return all;
}

}  // namespace

std::vector<Action> conflicts_actions(Desk& desk) {
    return offered(entries(), desk);
}

void perform(std::string_view action, Desk& desk) {
    do_by_name(entries(), action, desk, desk);
}

void watch_keys(Desk& desk) {
    watch_chords(entries(), [&](std::string_view action) { perform(action, desk); });
}

}  // namespace coilbook::bench::conflicts_page
