#include "bench/pages/rigs/rigs_actions.h"

#include "bench/outfit_page.h"
#include "bench/widgets/field.h"

namespace coilbook::bench::rigs_page {
namespace {

using Entry = DeskEntry<Desk>;

bool with_rig(Desk& desk) {
    return desk.view().has_rig && !desk.form().entry;
}
bool with_part(Desk& desk) {
    return with_rig(desk) && desk.view().has_part;
}
bool while_typing(Desk& desk) {
    return desk.form().entry.has_value();
}

template <RigRole role>
void string_as(Desk& desk) {
    Form& form = desk.form();
    form.strings = role;
    form.code.clear();
    form.is_rewritten = true;
    form.frames_to_focus = frames_to_take_focus;
}

// Out of what was begun, one step at a time.
void go_back(Form& form) {
    if (form.entry) {
        form.entry.reset();
    } else {
        form.strings.reset();
    }
    form.is_asked_to_retire = false;
    form.code.clear();
    form.is_rewritten = true;
    form.frames_to_focus = frames_to_take_focus;
}

}  // namespace

const DeskActions<Desk>& table_of(const Desk&) {
    static const auto all = with_common<Desk>(
        {
            Entry{
                {"next tip", "Change the tip: the next one of the wallet goes on", plain(key::f5)},
                [](Desk& desk) { return with_rig(desk) && desk.view().sheet.has_next; },
                [](Desk& desk) { desk.outbox().post(ChangeTip{}); }},
            Entry{{"this tip", "Put on this tip of the wallet", control('P')},
                  [](Desk& desk) { return with_part(desk) && desk.view().part_is_spare; },
                  [](Desk& desk) { desk.outbox().post(ChangeTip{true}); }},
            Entry{
                {"into the wallet", "Lay coils into its wallet, by scanning them", plain(key::f6)},
                with_rig,
                string_as<RigRole::wallet>},
            Entry{{"string tip", "Put a coil on as its tip, by scanning it", plain(key::f7)},
                  with_rig,
                  string_as<RigRole::tip>},
            Entry{{"string head", "Put a coil on as its head, by scanning it", control('H')},
                  with_rig,
                  string_as<RigRole::head>},
            Entry{{"string leader", "Put a coil on as its leader, by scanning it", control('L')},
                  with_rig,
                  string_as<RigRole::leader>},
            Entry{{"take out", "Take this coil out of the rig, into the bin", control('D')},
                  with_part,
                  [](Desk& desk) { desk.outbox().post(TakeOut{}); }},
            Entry{{"part below", "Go to the coil below in the rig", control(key::down)},
                  with_rig,
                  [](Desk& desk) { desk.outbox().post(StepPart{1}); }},
            Entry{{"part above", "Go to the coil above in the rig", control(key::up)},
                  with_rig,
                  [](Desk& desk) { desk.outbox().post(StepPart{-1}); }},
            Entry{{"new rig", "Make a rig", control('N')},
                  [](Desk& desk) { return !desk.form().entry; },
                  [](Desk& desk) { desk.outbox().post(BeginEntry{true}); }},
            Entry{{"change rig", "Change what is written of the rig", plain(key::f4)},
                  with_rig,
                  [](Desk& desk) { desk.outbox().post(BeginEntry{false}); }},
            Entry{{"save", "Save what is typed", control(key::enter)},
                  while_typing,
                  [](Desk& desk) { desk.outbox().post(SaveEntry{}); }},
            Entry{{"back", "Back, without saving", plain(key::escape)},
                  always,
                  [](Desk& desk) { go_back(desk.form()); }},
            Entry{{"save label", "Save the label of the rig as PDF", control('S')},
                  with_rig,
                  [](Desk& desk) { desk.outbox().post(SaveLabel{}); }},
            Entry{{"retire rig", "Retire the rig, once nothing is in it", {}},
                  with_rig,
                  [](Desk& desk) { desk.outbox().post(RetireRig{}); }},
        },
        if_nothing_is_typed<Undo, Desk>, if_nothing_is_typed<Redo, Desk>);
    return all;
}

}  // namespace coilbook::bench::rigs_page
