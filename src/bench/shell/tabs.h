// The names of the pages in the top bar, and the door to the list of all actions.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "bench/widgets/look.h"

namespace coilbook::bench {

struct Tab {
    std::string_view name;
    std::string key;  // "Alt 2"
    bool is_shown = false;
};

struct TabsDrawn {
    std::optional<std::size_t> chosen;  // the tab that was clicked
    bool list_all = false;              // the button for the list of all actions was
    float width = 0;                    // pixels that they took, with a gap behind
};

// Draws them at the cursor and leaves it behind them. Where `width` is too small for all, only the
// page that is shown has a tab; the keys work all the same.
[[nodiscard]] TabsDrawn draw_tabs(const Look& look, std::span<const Tab> tabs, float width,
                                  float height);

}  // namespace coilbook::bench
