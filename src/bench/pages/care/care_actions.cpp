#include "bench/pages/care/care_actions.h"

#include "bench/widgets/field.h"

namespace coilbook::bench::care_page {
namespace {

template <Task task>
void choose(Desk& desk) {
    desk.outbox().post(ChooseTask{task});
}
template <int step>
void step_row(Desk& desk) {
    desk.outbox().post(StepRow{step});
}
bool has_rows(Desk& desk) {
    return !desk.view().rows.empty();
}
bool may_give_names(Desk& desk) {
    return desk.form().task == Task::table || desk.form().task == Task::write_out;
}

}  // namespace

const DeskActions<Desk>& table_of(const Desk&) {
    static const auto all = with_common<Desk>({
        {{"back up", "Back the catalogue up", plain(key::f3)}, always, choose<Task::back_up>},
        {{"go back to a backup", "Go back to a backup, and see first what would change",
          plain(key::f4)},
         always,
         choose<Task::go_back>},
        {{"look through", "Look the catalogue through for damage", plain(key::f5)},
         always,
         choose<Task::look_through>},
        {{"write a table", "Write things of one kind as CSV or JSON", plain(key::f6)},
         always,
         choose<Task::table>},
        {{"take in a copy", "Take in another copy, or what another laptop wrote", plain(key::f7)},
         always,
         choose<Task::take_in>},
        {{"write out", "Write everything for another laptop to take in", plain(key::f9)},
         always,
         choose<Task::write_out>},
        {{"do it", "Do what is chosen, or show first what it would change", control(key::enter)},
         [](Desk& desk) { return desk.view().may_do; },
         [](Desk& desk) { desk.outbox().post(DoTask{}); }},
        {{"row below", "Go to the row below", plain(key::down)}, has_rows, step_row<1>},
        {{"row above", "Go to the row above", plain(key::up)}, has_rows, step_row<-1>},
        {{"with names", "With the names of clients, or without", control('N')},
         may_give_names,
         [](Desk& desk) { desk.form().with_names = !desk.form().with_names; }},
        {{"join", "Take in a catalogue that was made apart, or copies alone", control('J')},
         [](Desk& desk) { return desk.form().task == Task::take_in; },
         [](Desk& desk) { desk.form().joins = !desk.form().joins; }},
        {{"back", "Back, without doing it", plain(key::escape)},
         always,
         [](Desk& desk) { desk.outbox().post(ChooseTask{desk.form().task}); }},
    });
    return all;
}

}  // namespace coilbook::bench::care_page
