#include "app/text_width.h"

#include <algorithm>
#include <array>
#include <cstdint>

namespace coilbook::app {
namespace {

struct Range {
    std::uint32_t first, last;
};

constexpr std::array no_width{
    Range{0x0300, 0x036F}, Range{0x0483, 0x0489}, Range{0x0591, 0x05BD}, Range{0x064B, 0x065F},
    Range{0x1AB0, 0x1AFF}, Range{0x1DC0, 0x1DFF}, Range{0x200B, 0x200F}, Range{0x202A, 0x202E},
    Range{0x2060, 0x2064}, Range{0x20D0, 0x20F0}, Range{0xFE00, 0xFE0F}, Range{0xFE20, 0xFE2F},
    Range{0xFEFF, 0xFEFF},
};
constexpr std::array double_width{
    Range{0x1100, 0x115F},   Range{0x2E80, 0x303E},   Range{0x3041, 0xA4CF},
    Range{0xAC00, 0xD7A3},   Range{0xF900, 0xFAFF},   Range{0xFE30, 0xFE6F},
    Range{0xFF01, 0xFF60},   Range{0xFFE0, 0xFFE6},   Range{0x1F300, 0x1F64F},
    Range{0x1F680, 0x1F6FF}, Range{0x1F900, 0x1F9FF}, Range{0x20000, 0x3FFFD},
};

template <std::size_t N>
bool is_in(const std::array<Range, N>& ranges, std::uint32_t character) {
    return std::ranges::any_of(ranges, [&](const Range& range) {
        return character >= range.first && character <= range.last;
    });
}

// One character at the front of a text.
struct Character {
    std::uint32_t number;
    std::size_t bytes;
};

Character first_of(std::string_view text) {
    const auto byte = [&](std::size_t at) {
        return at < text.size() ? static_cast<unsigned char>(text[at]) : 0U;
    };
    const std::uint32_t first = byte(0);
    if (first < 0xC0) return {first, 1};
    if (first < 0xE0) return {(first & 0x1FU) << 6U | (byte(1) & 0x3FU), 2};
    if (first < 0xF0) {
        return {(first & 0x0FU) << 12U | (byte(1) & 0x3FU) << 6U | (byte(2) & 0x3FU), 3};
    }
    return {(first & 0x07U) << 18U | (byte(1) & 0x3FU) << 12U | (byte(2) & 0x3FU) << 6U |
                (byte(3) & 0x3FU),
            4};
}

std::size_t width_of(std::uint32_t character) {
    if (character < 0x0300) return 1;
    if (is_in(no_width, character)) return 0;
    return is_in(double_width, character) ? 2 : 1;
}

}  // namespace

std::size_t terminal_width(std::string_view text) {
    std::size_t width = 0;
    while (!text.empty()) {
        const auto [character, bytes] = first_of(text);
        width += width_of(character);
        text.remove_prefix(std::min(bytes, text.size()));
    }
    return width;
}

std::string cut_to_width(std::string_view text, std::size_t width) {
    if (terminal_width(text) <= width) return std::string(text);
    if (width == 0) return "";
    std::string kept;
    std::size_t used = 0;
    while (!text.empty()) {
        const auto [character, bytes] = first_of(text);
        used += width_of(character);
        if (used > width - 1) break;
        kept += text.substr(0, bytes);
        text.remove_prefix(std::min(bytes, text.size()));
    }
    return kept + "…";
}

std::string on_one_line(std::string_view text) {
    std::string line;
    while (!text.empty()) {
        const auto [character, bytes] = first_of(text);
        if (character == '\n' || character == '\r' || character == '\t') {
            line += ' ';
        } else if (character < 0x20 || (character >= 0x7F && character <= 0x9F)) {
            line += '?';
        } else {
            line += text.substr(0, bytes);
        }
        text.remove_prefix(std::min(bytes, text.size()));
    }
    return line;
}

}  // namespace coilbook::app
