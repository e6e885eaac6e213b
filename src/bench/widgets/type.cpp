#include "bench/widgets/type.h"

#include <algorithm>

namespace coilbook::bench {
namespace {

// `text` without its last character, which may be several bytes long.
std::string_view shorter(std::string_view text) {
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80) {
        text.remove_suffix(1);
    }
    if (!text.empty()) text.remove_suffix(1);
    return text;
}

}  // namespace

std::string in_lines(const ImFont* font, std::string_view text, float width) {
    std::string lines;
    std::size_t line_begin = 0;  // in `lines`
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        const std::string_view word = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (lines.size() > line_begin) {
            const std::string longer = lines.substr(line_begin) + " " + std::string(word);
            if (extent(font, longer).x <= width) {
                lines += " ";
            } else {
                lines += "\n";
                line_begin = lines.size();
            }
        }
        lines += word;
    }
    return lines;
}

std::string cut_to(const ImFont* font, std::string_view text, float width) {
    if (extent(font, text).x <= width) return std::string(text);
    const float room = width - extent(font, "…").x;
    std::string_view rest = text;
    while (!rest.empty() && extent(font, rest).x > room) rest = shorter(rest);
    return std::string(rest) + "…";
}

}  // namespace coilbook::bench
