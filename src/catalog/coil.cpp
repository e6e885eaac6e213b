#include "catalog/coil.h"

#include <algorithm>

#include "base/text.h"

namespace coilbook {

Result<std::string> coil_code_from(std::string_view text) {
    const auto code = trimmed(text);
    const auto is_allowed = [](char c) {
        const bool plain = (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') ||
                           (c >= 'a' && c <= 'z') || c == '-' || c == '_' || c == '.';
        return plain || static_cast<unsigned char>(c) >= 0x80;  // letters of other scripts
    };
    const char* const accepted = "1 to 40 letters, digits, '-', '_' or '.', without blanks";
    if (code.empty()) return problem("code", "the code is empty", accepted);
    if (code.size() > 40 || !is_plain_text(code) || !std::ranges::all_of(code, is_allowed)) {
        return problem("code", quoted(text) + " cannot be a code", accepted);
    }
    return std::string(code);
}

}  // namespace coilbook
