// How much room a text takes on a terminal, so that columns line up in any script.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace coilbook::app {

// The columns of a terminal that plain text takes: one for most characters, none for combining
// marks, two for the wide ones of East Asia and for pictures. REQUIRES: is_plain_text(text).
// Source: the ranges are the large blocks of Unicode's East Asian Width (UAX 11) and of combining
// marks, from memory; scripts whose letters join or stack may come out a column off.
[[nodiscard]] std::size_t terminal_width(std::string_view text);

// `text` cut to at most `width` columns, the last one "…" where something was cut away.
[[nodiscard]] std::string cut_to_width(std::string_view text, std::size_t width);

// `text` on one line and harmless on a terminal: line breaks and tabs become blanks, other control
// characters (which could move the cursor or colour what follows) '?'.
[[nodiscard]] std::string on_one_line(std::string_view text);

}  // namespace coilbook::app
