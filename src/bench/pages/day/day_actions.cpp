#include "bench/pages/day/day_actions.h"

#include "bench/outfit_page.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::day_page {
namespace {

using Entry = DeskEntry<Desk>;

bool not_typing(Desk& desk) {
    return !desk.form().entry;
}
bool with_boat(Desk& desk) {
    return not_typing(desk) && desk.view().has_boat;
}

template <Task task>
void go_to_task(Desk& desk) {
    Form& form = desk.form();
    form.task = task;
    form.code.clear();
    form.asked_code.clear();
    form.is_rewritten = true;
    form.is_asked_again = false;
    form.frames_to_focus = frames_to_take_focus;
    desk.outbox().post(StepRow{0});
}

template <EntryKind kind>
void begin(Desk& desk) {
    desk.outbox().post(BeginEntry{kind, true});
}

template <int days>
void step_day(Desk& desk) {
    desk.outbox().post(StepDay{days});
}

template <Whereabouts where>
void note_row(Desk& desk) {
    desk.outbox().post(NoteRow{where});
}

bool may_note(Desk& desk) {
    return not_typing(desk) && desk.view().row_may_note;
}
bool on_a_person(Desk& desk) {
    return not_typing(desk) && desk.view().row_is_person;
}

}  // namespace

const DeskActions<Desk>& table_of(const Desk&) {
    static const auto all = with_common<Desk>(
        {
            Entry{{"plan", "Plan what the boat carries", plain(key::f5)},
                  not_typing,
                  go_to_task<Task::plan>},
            Entry{{"pack", "Pack: what is scanned goes aboard", plain(key::f6)},
                  not_typing,
                  go_to_task<Task::pack>},
            Entry{{"come back", "What is still out, and taking it back", plain(key::f7)},
                  not_typing,
                  go_to_task<Task::back>},
            Entry{{"people", "Boats and clients: make, change and end them", plain(key::f9)},
                  not_typing,
                  go_to_task<Task::people>},
            Entry{{"day before", "Go to the day before", plain(key::page_up)},
                  not_typing,
                  step_day<-1>},
            Entry{{"day after", "Go to the day after", plain(key::page_down)},
                  not_typing,
                  step_day<1>},
            Entry{{"next day out", "Go to today, if a boat goes out, else to tomorrow",
                   plain(key::f4)},
                  not_typing,
                  step_day<0>},
            Entry{{"boat below", "Go to the next boat of the day", control(key::down)},
                  with_boat,
                  [](Desk& desk) { desk.outbox().post(StepBoat{1}); }},
            Entry{{"boat above", "Go to the boat before it", control(key::up)},
                  with_boat,
                  [](Desk& desk) { desk.outbox().post(StepBoat{-1}); }},
            Entry{{"new outing", "A boat goes out, with a client or without", control('N')},
                  not_typing,
                  begin<EntryKind::outing>},
            Entry{{"new boat", "Add a boat", control('B')}, not_typing, begin<EntryKind::boat>},
            Entry{
                {"new client", "Add a client", control('K')}, not_typing, begin<EntryKind::client>},
            Entry{{"tick", "Tick this row, or take its tick away; of what is out: it came back",
                   control(' ')},
                  [](Desk& desk) { return not_typing(desk) && desk.view().row_may_tick; },
                  [](Desk& desk) { desk.outbox().post(TickRow{}); }},
            Entry{{"drop", "Take this row off the plan", control('D')},
                  [](Desk& desk) { return not_typing(desk) && desk.view().row_may_drop; },
                  [](Desk& desk) { desk.outbox().post(DropRow{}); }},
            Entry{{"lost", "It is lost", control('L')}, may_note, note_row<Whereabouts::lost>},
            Entry{{"damaged", "It is here, but not to be used", control('M')},
                  may_note,
                  note_row<Whereabouts::damaged>},
            Entry{{"fill gap", "Put on the plan what would help", control('G')},
                  [](Desk& desk) { return with_boat(desk) && !desk.view().fill_label.empty(); },
                  [](Desk& desk) { desk.outbox().post(FillGap{}); }},
            Entry{{"save packing list", "Save the packing list of the boat as PDF", control('S')},
                  with_boat,
                  [](Desk& desk) { desk.outbox().post(SavePacking{}); }},
            Entry{{"call off", "The boat stays at home on this day", {}},
                  with_boat,
                  [](Desk& desk) { desk.outbox().post(CallOff{}); }},
            Entry{
                {"change person", "Change what is written of this boat or client", plain(key::f3)},
                on_a_person,
                [](Desk& desk) {
                    desk.outbox().post(BeginEntry{EntryKind::boat, false});
                }},
            Entry{{"end person", "Retire this boat, or forget this client for good", {}},
                  on_a_person,
                  [](Desk& desk) { desk.outbox().post(EndRow{}); }},
            Entry{{"save", "Save what is typed", control(key::enter)},
                  [](Desk& desk) { return desk.form().entry.has_value(); },
                  [](Desk& desk) { desk.outbox().post(SaveEntry{}); }},
            Entry{{"back", "Back, without saving", plain(key::escape)},
                  always,
                  [](Desk& desk) {
                      Form& form = desk.form();
                      form.entry.reset();
                      form.asked_code.clear();
                      form.is_asked_again = false;
                      form.code.clear();
                      form.is_rewritten = true;
                      form.frames_to_focus = frames_to_take_focus;
                  }},
        },
        if_nothing_is_typed<Undo, Desk>, if_nothing_is_typed<Redo, Desk>);
    return all;
}

}  // namespace coilbook::bench::day_page
