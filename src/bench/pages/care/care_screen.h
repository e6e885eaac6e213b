// Draws the page Care: what can be done for the catalogue, and beside it the one that is chosen.
#pragma once

#include "bench/pages/care/care_desk.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::care_page {

// Fills the rest of the current window, and watches the page's keys unless it is covered.
void draw(const Look& look, Desk& desk, bool is_covered = false);

}  // namespace coilbook::bench::care_page
