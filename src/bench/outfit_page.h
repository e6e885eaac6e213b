// What the pages about rigs, the day and the stock do alike with keys: they have rows to walk
// through, a field for codes, and now and then a form that is filled in.
#pragma once

#include "bench/widgets/entry_form.h"
#include "bench/widgets/field.h"
#include "bench/widgets/keys.h"

namespace coilbook::bench {

// Posts the command, unless something is typed: a field has an undo of its own.
template <class Command, class Desk>
void if_nothing_is_typed(Desk& desk) {
    if (!desk.form().entry && desk.form().code.empty()) desk.outbox().post(Command{});
}

// The arrows go through the fields of a form that is open, and else through the rows: `Step` is
// posted with 1 for down and -1 for up.
template <class Step, class Desk>
void watch_arrows(Desk& desk) {
    const int down = pressed(plain(key::down)) ? 1 : pressed(plain(key::up)) ? -1 : 0;
    if (down == 0) return;
    if (desk.form().entry) {
        go_on(*desk.form().entry, down);
    } else {
        desk.outbox().post(Step{down});
    }
}

// At the end of each frame: the field that should have the keyboard gets it back.
template <class Form>
void keep_keyboard(Form& form, bool is_covered) {
    int& frames = form.entry ? form.entry->frames_to_focus : form.frames_to_focus;
    if (!is_covered && has_lost_keyboard(frames)) frames = frames_to_take_focus;
}

}  // namespace coilbook::bench
