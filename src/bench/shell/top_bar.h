// The strip at the top of the window: what is open, and how the window looks.
#pragma once

#include <functional>
#include <string_view>

#include "bench/widgets/look.h"

namespace coilbook::bench {

// What the person asked of the window in this frame, by mouse, by key or by name.
struct TopBarWish {
    bool other_theme = false;    // F2
    bool large = false;          // F11: the layout for cold fingers, or no longer
    int scale_step = 0;          // Ctrl+plus, Ctrl+minus
    bool monitor_scale = false;  // Ctrl+0
    bool quit = false;           // Ctrl+Q

    [[nodiscard]] bool any() const {
        return other_theme || large || scale_step != 0 || monitor_scale || quit;
    }
};

// `page_part` draws what the page has to show there, at the cursor, into so many pixels of width
// and height.
[[nodiscard]] TopBarWish draw_top_bar(const Look& look, ThemeName theme, std::string_view subtitle,
                                      const std::function<void(float, float)>& page_part);

}  // namespace coilbook::bench
