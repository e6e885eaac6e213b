// A row of a list: something that can be gone to, with a box to tick or a mark before it.
#pragma once

#include <optional>
#include <string_view>

#include "bench/widgets/look.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {

struct RowText {
    std::string_view id;          // its identity in the list
    std::string_view head;        // a code or a name, written stronger
    std::string_view words = {};  // beside it
    std::string_view aside = {};  // at the right edge
    std::string_view below = {};  // a second line
    std::optional<bool> tick = {};
    std::optional<Mark> mark = {};
    Tone tone = Tone::muted;     // of the mark and the aside
    bool is_at = false;          // the keyboard is on it
    bool is_within = false;      // belongs to the row above
    float head_width = 0;        // where the words begin; 0: right behind the head
    std::string_view help = {};  // on the number in it
};

struct RowClicked {
    bool row = false;   // anywhere in it
    bool tick = false;  // on its box
};

// As wide as the space that is left, high enough for cold fingers. The witness knows it as
// "row ID", its words as what it says.
[[nodiscard]] RowClicked list_row(const Look& look, const RowText& row);
[[nodiscard]] float list_row_height(const Look& look, bool has_second_line);

// Scrolls the current child so that a row of `height` at the cursor is in sight.
void scroll_to_row(float height);

}  // namespace coilbook::bench
