#include "app/dropped_file.h"

#include <array>
#include <fstream>
#include <string_view>

#include "pictures/picture.h"

namespace coilbook::app {

FileKind kind_of(const std::filesystem::path& file) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error)) return FileKind::unreadable;
    std::ifstream stream(file, std::ios::binary);
    if (!stream) return FileKind::unreadable;
    // Source: SQLite database file format, section 1.3, "Magic Header String".
    constexpr std::string_view magic("SQLite format 3\0", 16);
    std::array<char, 16> begin{};
    stream.read(begin.data(), begin.size());
    const std::string_view read(begin.data(), static_cast<std::size_t>(stream.gcount()));
    if (read == magic) return FileKind::catalogue;
    return pictures::format_of(read) ? FileKind::photograph : FileKind::text;
}

}  // namespace coilbook::app
