#include "pictures/upright.h"

#include <cassert>
#include <cstring>

namespace coilbook::pictures {
namespace {

// Numbers in bytes that may end anywhere: 0 where there is none.
struct Numbers {
    std::string_view bytes;
    bool is_little_endian = false;

    [[nodiscard]] std::uint32_t at(std::size_t place, std::size_t count) const {
        if (place > bytes.size() || count > bytes.size() - place) return 0;
        std::uint32_t number = 0;
        for (std::size_t k = 0; k < count; ++k) {
            const std::size_t byte = is_little_endian ? place + count - 1 - k : place + k;
            number = number << 8U | static_cast<unsigned char>(bytes[byte]);
        }
        return number;
    }
};

int orientation_in(std::string_view tiff) {
    if (!tiff.starts_with("II") && !tiff.starts_with("MM")) return 1;
    const Numbers numbers{tiff, tiff.starts_with("II")};
    if (numbers.at(2, 2) != 42) return 1;
    const std::size_t directory = numbers.at(4, 4);
    const std::size_t entries = numbers.at(directory, 2);
    for (std::size_t entry = 0; entry < entries; ++entry) {
        const std::size_t place = directory + 2 + 12 * entry;
        if (place >= tiff.size()) break;
        constexpr std::uint32_t orientation_tag = 0x0112, short_type = 3;
        if (numbers.at(place, 2) != orientation_tag) continue;
        if (numbers.at(place + 2, 2) != short_type) return 1;
        const auto value = numbers.at(place + 8, 2);
        return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
    }
    return 1;
}

}  // namespace

int orientation_of(std::string_view bytes) {
    constexpr std::uint32_t application_1 = 0xFFE1, start_of_scan = 0xFFDA;
    constexpr std::string_view exif("Exif\0\0", 6);
    const Numbers numbers{bytes};
    if (numbers.at(0, 2) != 0xFFD8) return 1;
    for (std::size_t place = 2; place + 4 <= bytes.size();) {
        const auto marker = numbers.at(place, 2);
        const std::size_t length = numbers.at(place + 2, 2);
        if (marker >> 8U != 0xFF || marker == start_of_scan || length < 2) return 1;
        const auto body = bytes.substr(place + 4, length - 2);
        if (marker == application_1 && body.starts_with(exif)) {
            return orientation_in(body.substr(exif.size()));
        }
        place += 2 + length;
    }
    return 1;
}

bool swaps_sides(int orientation) {
    return orientation >= 5;
}

Picture upright(const Picture& picture, int orientation) {
    assert(orientation >= 1 && orientation <= 8 && "orientation_of gives 1 to 8");
    if (orientation == 1) return picture;
    Picture turned{picture.width, picture.height, {}};
    if (swaps_sides(orientation)) std::swap(turned.width, turned.height);
    turned.rgba.resize(picture.rgba.size());
    const bool from_right =
        orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
    const bool from_below =
        orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
    const auto spot = [](const Picture& of, int x, int y) {
        return 4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(of.width) +
                    static_cast<std::size_t>(x));
    };
    for (int y = 0; y < turned.height; ++y) {
        for (int x = 0; x < turned.width; ++x) {
            int column = swaps_sides(orientation) ? y : x;
            int row = swaps_sides(orientation) ? x : y;
            if (from_right) column = picture.width - 1 - column;
            if (from_below) row = picture.height - 1 - row;
            std::memcpy(&turned.rgba[spot(turned, x, y)], &picture.rgba[spot(picture, column, row)],
                        4);
        }
    }
    return turned;
}

}  // namespace coilbook::pictures
