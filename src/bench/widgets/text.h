// Lines of text in the window's type and colours, and telling the witness about them.
#pragma once

#include <string_view>

#include "bench/widgets/look.h"

namespace coilbook::bench {

enum class Tone { normal, muted, good, warn, bad, accent };

[[nodiscard]] Colour colour_of(Tone tone, const Theme& theme);

// One line. Longer text runs on; see wrapped() for paragraphs.
void line(const Look& look, ImFont* font, std::string_view text, Tone tone = Tone::normal);
// A paragraph as wide as the space that is left.
void wrapped(const Look& look, ImFont* font, std::string_view text, Tone tone = Tone::normal);
// One line whose end stands at `right`, in pixels from the left edge of the current child.
void line_ending_at(const Look& look, ImFont* font, float right, std::string_view text,
                    Tone tone = Tone::normal);
// A line that is cut with an ellipsis where it would be wider than `width` pixels.
void line_within(const Look& look, ImFont* font, float width, std::string_view text,
                 Tone tone = Tone::normal);

// Tells the witness, if there is one, about the widget that was drawn last.
void note_item(const Look& look, std::string_view name, std::string_view says);

}  // namespace coilbook::bench
