// Small helpers for what people type: blanks, case, lists, and whether it is text at all.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace coilbook {

// `text` without blanks, tabs and line ends at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

// `text` with A–Z made a–z; other bytes stay.
[[nodiscard]] std::string lower_ascii(std::string_view text);

// Whether `text` begins with `word`, A–Z counting as a–z in both.
[[nodiscard]] bool begins_in_any_case(std::string_view text, std::string_view word);

// The pieces of `text` between any of the characters in `separators`, trimmed, empty ones left out.
[[nodiscard]] std::vector<std::string_view> pieces(std::string_view text,
                                                   std::string_view separators);

// The words as a list in a sentence: "a, b and c". Empty for no words.
[[nodiscard]] std::string listed(const std::vector<std::string>& words);

// Whether `text` is well-formed UTF-8 without NUL bytes: what every text in a catalogue must be.
// Source: RFC 3629, section 4 (no overlong forms, no surrogates, nothing above U+10FFFF).
[[nodiscard]] bool is_plain_text(std::string_view text);

// `text` in single quotes for a message, cut after `longest` bytes with "…", with control
// characters shown as '?', so that a thousand-digit number or a binary file stays readable.
[[nodiscard]] std::string quoted(std::string_view text, std::size_t longest = 40);

}  // namespace coilbook
