// Draws the page Stock: what there is of each class, or what a season cost; and beside it where a
// thing is.
#pragma once

#include "bench/pages/stock/stock_desk.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::stock_page {

// Fills the rest of the current window, watches the page's keys, and keeps the keyboard in its
// field unless it is covered.
void draw(const Look& look, Desk& desk, bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_table(const Look& look, const View& view, Desk& desk, float height);
void draw_losses(const Look& look, const View& view, Desk& desk, float height);
void draw_where(const Look& look, const View& view, Desk& desk, float width, float height);

}  // namespace coilbook::bench::stock_page
