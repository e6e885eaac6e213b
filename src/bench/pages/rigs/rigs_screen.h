// Draws the page Rigs: all rigs, the one in hand from the reel outwards, and beside it what would
// fit, or the rig's words being typed.
#pragma once

#include "bench/pages/rigs/rigs_desk.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::rigs_page {

// Fills the rest of the current window, watches the page's keys, and keeps the keyboard in its
// field unless it is covered.
void draw(const Look& look, Desk& desk, bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_list(const Look& look, const View& view, Desk& desk, float width, float height);
void draw_sheet(const Look& look, const View& view, Desk& desk, float width, float height);
void draw_side(const Look& look, const View& view, Desk& desk, float width, float height);

}  // namespace coilbook::bench::rigs_page
