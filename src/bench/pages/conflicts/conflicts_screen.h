// Draws the page Conflicts: what is to be settled, and beside it the answers that there are.
#pragma once

#include "bench/pages/conflicts/conflicts_desk.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::conflicts_page {

// Fills the rest of the current window, and watches the page's keys unless it is covered.
void draw(const Look& look, Desk& desk, bool is_covered = false);

}  // namespace coilbook::bench::conflicts_page
