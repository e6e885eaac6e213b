// Draws the page at the bench. The drawing files (*_part.cpp, bench_screen.cpp) show a View, edit a
// Form and post Commands; they compute nothing but places.
#pragma once

#include "bench/outbox.h"
#include "bench/pages/bench/bench_commands.h"
#include "bench/pages/bench/bench_form.h"
#include "bench/pages/bench/bench_view.h"
#include "bench/widgets/field.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::bench_page {

// Fills the rest of the current window. Also watches the page's keys, and keeps the keyboard in its
// fields, unless it is covered by something that has the keyboard now.
void draw(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
          bool is_covered = false);

// The buttons for what the person wants to know, at the cursor and at most `width` pixels wide;
// what finds no room is left out, since its key works all the same.
void draw_question(const Look& look, const View& view, Outbox<Command>& outbox, float width,
                   float height);

// Its parts; `width` and `height` in pixels.
void draw_bin(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
              float height);
void draw_readings(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                   float width, float height);
void draw_verdict(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                  float width, float height);

// The page for cold fingers: only the field at hand, and the answer, in large type.
void draw_large(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                float width, float height);

// One field each. `height` in pixels, 0 for the usual.
void draw_code(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
               float height);
void draw_reading(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                  const ReadingRow& row, FieldPlace place);
void draw_notes(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                FieldPlace place);
// What ends the work on the coil in hand: the buttons.
void draw_decision(const Look& look, const View& view, Outbox<Command>& outbox, float width,
                   float height);

}  // namespace coilbook::bench::bench_page
