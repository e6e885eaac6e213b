#include "catalog/coil.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace coilbook {

namespace {

// Whether a text has blanks, marks or signs of other scripts, some of which cannot be seen:
// no-break and other blanks, soft hyphens, zero-width and direction marks. In UTF-8 they begin with
// C2 (U+0080 to U+00BF), E2 80 or E2 81 (General Punctuation), E3 80 80 and EF BB BF. Source: the
// Unicode Standard's code charts (from memory).
bool has_unseen_signs(std::string_view text) {
    constexpr std::array<std::string_view, 5> beginnings{"\xC2", "\xE2\x80", "\xE2\x81",
                                                         "\xE3\x80\x80", "\xEF\xBB\xBF"};
    return std::ranges::any_of(beginnings, [&](std::string_view beginning) {
        return text.find(beginning) != std::string_view::npos;
    });
}

}  // namespace

Result<std::string> coil_code_from(std::string_view text) {
    const auto code = trimmed(text);
    const auto is_plain = [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
               c == '-' || c == '_' || c == '.';
    };
    const auto is_allowed = [&](char c) {
        return is_plain(c) || static_cast<unsigned char>(c) >= 0x80;  // letters of other scripts
    };
    const char* const accepted = "1 to 40 letters, digits, '-', '_' or '.', without blanks";
    if (code.empty()) return problem("code", "the code is empty", accepted);
    const bool is_good =
        code.size() <= 40 &&
        (std::ranges::all_of(code, is_plain) ||
         (std::ranges::all_of(code, is_allowed) && is_plain_text(code) && !has_unseen_signs(code)));
    if (!is_good) return problem("code", quoted(text) + " cannot be a code", accepted);
    return std::string(code);
}

}  // namespace coilbook
