#include "base/text.h"

#include <cstdint>
#include <cstring>

namespace coilbook {
namespace {

constexpr bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

constexpr char lower_of(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

// How many bytes the UTF-8 sequence at the start of `text` has; 0 where it is not well formed.
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t at) {
        return at < text.size() ? static_cast<unsigned char>(text[at]) : 0U;
    };
    const auto follows = [&](std::size_t at) { return (byte(at) & 0xC0U) == 0x80U; };
    const unsigned first = byte(0);
    if (first < 0x80) return 1;
    if (first >= 0xC2 && first <= 0xDF) return follows(1) ? 2 : 0;
    if (first >= 0xE0 && first <= 0xEF) {
        const bool overlong = first == 0xE0 && byte(1) < 0xA0;
        const bool surrogate = first == 0xED && byte(1) >= 0xA0;
        return follows(1) && follows(2) && !overlong && !surrogate ? 3 : 0;
    }
    if (first >= 0xF0 && first <= 0xF4) {
        const bool overlong = first == 0xF0 && byte(1) < 0x90;
        const bool too_high = first == 0xF4 && byte(1) >= 0x90;
        return follows(1) && follows(2) && follows(3) && !overlong && !too_high ? 4 : 0;
    }
    return 0;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
    return text;
}

std::string lower_ascii(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) c = lower_of(c);
    return lower;
}

bool begins_in_any_case(std::string_view text, std::string_view word) {
    if (text.size() < word.size()) return false;
    for (std::size_t i = 0; i < word.size(); ++i) {
        if (lower_of(text[i]) != lower_of(word[i])) return false;
    }
    return true;
}

std::vector<std::string_view> pieces(std::string_view text, std::string_view separators) {
    std::vector<std::string_view> found;
    while (!text.empty()) {
        const auto end = text.find_first_of(separators);
        const auto piece = trimmed(text.substr(0, end));
        if (!piece.empty()) found.push_back(piece);
        if (end == std::string_view::npos) break;
        text.remove_prefix(end + 1);
    }
    return found;
}

std::string listed(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t at = 0; at < words.size(); ++at) {
        if (at > 0) text += at + 1 == words.size() ? " and " : ", ";
        text += words[at];
    }
    return text;
}

bool is_plain_text(std::string_view text) {
    // Most of it is ASCII, of which eight bytes are told at a time: none has its highest bit, and
    // none is 0, from which taking 1 would give it that.
    constexpr std::uint64_t ones = 0x0101010101010101, highest = ones << 7;
    for (std::uint64_t eight = 0; text.size() >= sizeof eight; text.remove_prefix(sizeof eight)) {
        std::memcpy(&eight, text.data(), sizeof eight);
        if (((eight | (eight - ones)) & highest) != 0) break;
    }
    while (!text.empty()) {
        const auto length = sequence_length(text);
        if (length == 0 || text.front() == '\0') return false;
        text.remove_prefix(length);
    }
    return true;
}

std::string quoted(std::string_view text, std::size_t longest) {
    std::string shown = "'";
    while (!text.empty() && shown.size() <= longest) {
        const auto length = sequence_length(text);
        const auto first = static_cast<unsigned char>(text.front());
        if (length == 0 || first < 0x20 || first == 0x7F) {
            shown += '?';
            text.remove_prefix(1);
        } else {
            shown += text.substr(0, length);
            text.remove_prefix(length);
        }
    }
    if (!text.empty()) shown += "…";
    return shown + "'";
}

}  // namespace coilbook
