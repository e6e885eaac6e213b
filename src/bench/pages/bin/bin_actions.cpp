#include "bench/pages/bin/bin_actions.h"

#include "bench/widgets/field.h"

namespace coilbook::bench::bin_page {
namespace {

using Entry = DeskEntry<Desk>;

bool on_a_coil(Desk& desk) {
    return desk.view().at.has_value();
}

void show_all(Form& form) {
    form.looked_for.clear();
    form.is_rewritten = true;
    form.state.reset();
    form.ticked.clear();
    form.is_handing = false;
    form.hand_to.clear();
    go_to(form, Spot::search);
}

void show_next_state(Form& form) {
    if (!form.state) {
        form.state = app::CoilState::unmeasured;
    } else if (*form.state == app::CoilState::confirmed) {
        form.state.reset();
    } else {
        form.state = static_cast<app::CoilState>(static_cast<int>(*form.state) + 1);
    }
}

void sort_by_next(Form& form) {
    const auto next = (static_cast<std::size_t>(form.order.by) + 1) % columns;
    form.order.by = static_cast<SortBy>(next);
}

// For the other way round the search only; a name that is being typed is undone by its own field.
void go_back(Desk& desk, bool forth) {
    const Form& form = desk.form();
    const std::string& typed = form.spot == Spot::group_name ? form.group_name
                               : form.spot == Spot::hand_to  ? form.hand_to
                                                             : form.looked_for;
    if (!typed.empty()) return;
    if (forth) {
        desk.outbox().post(Redo{});
    } else {
        desk.outbox().post(Undo{});
    }
}

}  // namespace

const DeskActions<Desk>& table_of(const Desk&) {
    static const auto all = with_common<Desk>(
        {
            Entry{{"take to the bench", "Take this coil to the bench", {}},
                  on_a_coil,
                  [](Desk& desk) { desk.outbox().post(TakeToTheBench{*desk.form().at}); }},
            Entry{{"confirm ready", "Confirm those that are ready", control(key::enter)},
                  [](Desk& desk) { return desk.view().may_confirm; },
                  [](Desk& desk) { desk.outbox().post(ConfirmReady{}); }},
            Entry{{"tick", "Tick this coil, or no longer", control(' ')},
                  on_a_coil,
                  [](Desk& desk) { desk.tick_this(); }},
            Entry{{"tick all", "Tick all coils that are shown, or none", control_shift('A')},
                  on_a_coil,
                  [](Desk& desk) { desk.tick_all_shown(); }},
            Entry{{"show all", "Show all coils, none ticked", plain(key::escape)},
                  always,
                  [](Desk& desk) { show_all(desk.form()); }},
            Entry{{"next state", "Show only coils of the next state", plain(key::f3)},
                  always,
                  [](Desk& desk) { show_next_state(desk.form()); }},
            Entry{{"labels", "Write the labels of the ticked coils, as a sheet to print",
                   control('P')},
                  on_a_coil,
                  [](Desk& desk) { desk.outbox().post(WriteLabels{}); }},
            Entry{{"find groups", "Find the coils that are one line", control('G')},
                  [](Desk& desk) { return !desk.view().is_grouping; },
                  [](Desk& desk) { desk.outbox().post(FindGroups{}); }},
            Entry{
                {"name group", "Give this line a name, as a class of your library", control('L')},
                [](Desk& desk) { return desk.view().group && desk.view().group->asks_for_a_name; },
                [](Desk& desk) {
                    desk.form().is_handing = false;
                    go_to(desk.form(), Spot::group_name);
                }},
            Entry{{"hand out", "Hand the ticked coils to a boat, or put them into a rig's wallet",
                   control('H')},
                  on_a_coil,
                  [](Desk& desk) {
                      desk.form().is_handing = true;
                      go_to(desk.form(), Spot::hand_to);
                  }},
            Entry{{"sort", "Sort by the next column", plain(key::f4)},
                  always,
                  [](Desk& desk) { sort_by_next(desk.form()); }},
            Entry{{"other way round", "Sort the other way round", plain(key::f5)},
                  always,
                  [](Desk& desk) {
                      desk.form().order.is_descending = !desk.form().order.is_descending;
                  }},
            Entry{{"cards", "Show the coils as cards, or as rows", plain(key::f6)},
                  always,
                  [](Desk& desk) {
                      desk.form().as_cards = !desk.form().as_cards;
                      desk.form().scrolls = true;
                  }},
        },
        [](Desk& desk) { go_back(desk, false); }, [](Desk& desk) { go_back(desk, true); });
    return all;
}

}  // namespace coilbook::bench::bin_page
