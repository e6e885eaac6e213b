#include "bench/pages/stock/stock_actions.h"

#include <array>

#include "bench/outfit_page.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::stock_page {
namespace {

struct Entry {
    Action action;
    bool (*is_possible)(Desk& desk);
    void (*run)(Desk& desk);
};

bool always(Desk&) {
    return true;
}
bool not_typing(Desk& desk) {
    return !desk.form().entry;
}
bool at_losses(Desk& desk) {
    return not_typing(desk) && desk.form().task == Task::losses;
}

const auto& entries() {
    static const std::array all{
        Entry{{"stock", "What there is of each class, and where", plain(key::f5)},
              not_typing,
              [](Desk& desk) { desk.form().task = Task::stock; }},
        Entry{{"losses", "What a season cost", plain(key::f6)},
              not_typing,
              [](Desk& desk) { desk.form().task = Task::losses; }},
        Entry{{"by boat", "Losses by boat, or by class", plain(key::f7)},
              at_losses,
              [](Desk& desk) { desk.form().by_boat = !desk.form().by_boat; }},
        Entry{{"season", "Say which days the season has", plain(key::f4)},
              not_typing,
              [](Desk& desk) { desk.outbox().post(BeginSeason{}); }},
        Entry{{"save losses", "Save the losses as plot and table", control('S')},
              at_losses,
              [](Desk& desk) { desk.outbox().post(SaveLosses{}); }},
        Entry{{"take to the bench", "Take the coil that was asked for to the bench", control('B')},
              [](Desk& desk) { return not_typing(desk) && desk.view().may_go_to_bench; },
              [](Desk& desk) { desk.outbox().post(TakeToTheBench{}); }},
        Entry{{"save", "Save what is typed", control(key::enter)},
              [](Desk& desk) { return desk.form().entry.has_value(); },
              [](Desk& desk) { desk.outbox().post(SaveSeason{}); }},
        Entry{{"back", "Back, without saving", plain(key::escape)},
              always,
              [](Desk& desk) {
                  Form& form = desk.form();
                  form.entry.reset();
                  form.code.clear();
                  form.is_rewritten = true;
                  form.frames_to_focus = frames_to_take_focus;
                  desk.outbox().post(EnterCode{""});
              }},
        Entry{{"undo", "Undo the last change", control('Z')},
              always,
              if_nothing_is_typed<Undo, Desk>},
        Entry{{"redo", "Do it again", control_shift('Z')}, always, if_nothing_is_typed<Redo, Desk>},
        Entry{{"close failure", "Close the message about what went wrong", plain(key::f8)},
              [](Desk& desk) { return !desk.view().failure.empty(); },
              [](Desk& desk) { desk.outbox().post(CloseFailure{}); }},
    };
    return all;
}

}  // namespace

std::vector<Action> stock_actions(Desk& desk) {
    return offered(entries(), desk);
}

void perform(std::string_view action, Desk& desk) {
    do_by_name(entries(), action, desk, desk);
}

void watch_keys(Desk& desk) {
    watch_chords(entries(), [&](std::string_view action) { perform(action, desk); });
    watch_arrows<StepRow>(desk);
}

}  // namespace coilbook::bench::stock_page
