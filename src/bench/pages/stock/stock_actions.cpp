#include "bench/pages/stock/stock_actions.h"

#include "bench/outfit_page.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::stock_page {
namespace {

using Entry = DeskEntry<Desk>;

bool not_typing(Desk& desk) {
    return !desk.form().entry;
}
bool at_losses(Desk& desk) {
    return not_typing(desk) && desk.form().task == Task::losses;
}

}  // namespace

const DeskActions<Desk>& table_of(const Desk&) {
    static const auto all = with_common<Desk>(
        {
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
            Entry{{"take to the bench", "Take the coil that was asked for to the bench",
                   control('B')},
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
        },
        if_nothing_is_typed<Undo, Desk>, if_nothing_is_typed<Redo, Desk>);
    return all;
}

}  // namespace coilbook::bench::stock_page
