// Files that are inside the program (tools/cmake/CoilbookEmbed.cmake).
#pragma once

#include <string>

namespace coilbook::app {

[[nodiscard]] inline std::string embedded_text(const char* begin, const char* end) {
    return std::string(begin, end);
}

}  // namespace coilbook::app
