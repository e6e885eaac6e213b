// Draws the page Library. The drawing files (*_part.cpp, library_screen.cpp) show a View, edit a
// Form and post Commands; they compute nothing but places.
#pragma once

#include "bench/outbox.h"
#include "bench/pages/library/library_commands.h"
#include "bench/pages/library/library_form.h"
#include "bench/pages/library/library_view.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::library_page {

// Fills the rest of the current window. Also watches the page's keys, and keeps the keyboard in the
// filter, unless it is covered by something that has the keyboard now.
void draw(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
          bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_list(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
               float height);
void draw_map(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
              float height);
void draw_about(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                float width, float height);
// REQUIRES: a task is going on.
void draw_task(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
               float height);
void draw_score(const Look& look, const ScoreView& score, float width, float height);

}  // namespace coilbook::bench::library_page
