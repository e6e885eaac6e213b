// What every page says at its edges: what went wrong, which keys there are, what was done last.
#pragma once

#include <span>
#include <string>

#include "bench/widgets/button.h"
#include "bench/widgets/look.h"

namespace coilbook::bench {

// A box across the page with what went wrong and a button to close it, which F8 does as well.
// Gives whether the button was pressed.
bool failure_box(const Look& look, const std::string& words);

// Keys and what they do, from the left edge on; what was done last stands in full at the right
// edge, and hints that it leaves no room for are left out.
void hint_bar(const Look& look, std::span<const KeyHint> hints, const std::string& message);
// Its height in pixels, gap above included.
[[nodiscard]] float hint_bar_height(const Look& look);

}  // namespace coilbook::bench
