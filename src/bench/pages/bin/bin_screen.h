// Draws the page of the bin: what is looked for and the rows, and beside them what is left, the
// group and the decision.
#pragma once

#include "bench/pages/bin/bin_desk.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::bin_page {

// Fills the rest of the current window, watches the page's keys, and keeps the keyboard in its
// field unless it is covered.
void draw(const Look& look, Desk& desk, bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_table(const Look& look, const View& view, Desk& desk, float height);
void draw_cards(const Look& look, const View& view, Desk& desk, float height);
void draw_side(const Look& look, const View& view, Desk& desk, float width, float height);

}  // namespace coilbook::bench::bin_page
