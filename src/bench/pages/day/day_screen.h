// Draws the page Day: the boats that go out, in the middle what the boat carries, what is still out
// or the boats and clients themselves, and beside it what is wrong with the plan.
#pragma once

#include "bench/pages/day/day_desk.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::day_page {

// Fills the rest of the current window, watches the page's keys, and keeps the keyboard in its
// field unless it is covered.
void draw(const Look& look, Desk& desk, bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_boats(const Look& look, const View& view, Desk& desk, float width, float height);
void draw_rows(const Look& look, const View& view, Desk& desk, float width, float height);
void draw_side(const Look& look, const View& view, Desk& desk, float width, float height);

}  // namespace coilbook::bench::day_page
