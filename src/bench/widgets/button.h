// Buttons large enough for cold fingers, with their key beside the label.
#pragma once

#include <string_view>

#include "bench/widgets/look.h"
#include "bench/widgets/marks.h"

namespace coilbook::bench {

enum class Weight { main, plain };

struct ButtonText {
    std::string_view id;     // its identity, stable whatever the label says
    std::string_view label;  // what it does
    std::string_view key;    // "Ctrl+Enter"; may be empty
};

// Gives whether it was pressed with the mouse; its key is for the page to watch.
// `width` in pixels, 0 for as wide as the text; `height` 0 for the usual. A button that is not
// enabled is drawn faint and never pressed.
bool button(const Look& look, const ButtonText& text, Weight weight = Weight::plain,
            float width = 0, float height = 0, bool enabled = true);

// A square button with a mark alone, `size` pixels wide; `says` is shown under the mouse.
bool mark_button(const Look& look, std::string_view id, Mark mark, std::string_view says,
                 float size);

// Keys and what they do, in one muted line: "Enter" "save and go on" …
struct KeyHint {
    std::string_view key, does;
};
void key_hint(const Look& look, const KeyHint& hint);

}  // namespace coilbook::bench
