// Text drawn and measured by hand, beside the widget library's own. For drawing files only.
#pragma once

#include <imgui.h>

#include <cmath>
#include <string>
#include <string_view>

namespace coilbook::bench {

// The size of `text` in `font`, in lines of at most `wrap` pixels if that is above 0.
[[nodiscard]] inline ImVec2 extent(const ImFont* font, std::string_view text, float wrap = 0) {
    if (text.empty()) return {0, font->FontSize};  // the library takes no pointer to nothing
    return font->CalcTextSizeA(font->FontSize, 1e6F, wrap, text.data(), text.data() + text.size());
}

// Writes `text` with its upper left corner on the pixel at `at`.
inline void put(ImDrawList& list, const ImFont* font, ImVec2 at, ImU32 colour,
                std::string_view text) {
    if (text.empty()) return;
    list.AddText(font, font->FontSize, {std::round(at.x), std::round(at.y)}, colour, text.data(),
                 text.data() + text.size());
}

// `text` in lines that are no wider than `width` pixels, broken at blanks alone: the widget library
// would break "0.848" after its point. A word that is too wide has a line of its own.
[[nodiscard]] std::string in_lines(const ImFont* font, std::string_view text, float width);

// `text`, or as much of it as fits into `width` pixels with an ellipsis behind it.
[[nodiscard]] std::string cut_to(const ImFont* font, std::string_view text, float width);

}  // namespace coilbook::bench
