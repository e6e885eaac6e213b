// A photograph, read from the bytes of a PNG or JPEG file that may come from anybody.
//
// Told by the first bytes, not by a name. Decoding is libpng's and libjpeg-turbo's; here are the
// limits that keep a small file from becoming a huge picture. Leaves out: colour profiles, and the
// second and further pictures of a file.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "catalog/coil_care.h"

namespace coilbook::pictures {

// Rows from the top, without gaps; four bytes a pixel: red, green, blue, opacity.
struct Picture {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba;

    bool operator==(const Picture&) const = default;
};

// What the file says of itself. Width and height are as it is looked at: turned upright.
struct PictureHead {
    PictureFormat format;
    int width, height;

    bool operator==(const PictureHead&) const = default;
};

// What the first bytes say; nothing for anything else. A few bytes are enough.
[[nodiscard]] std::optional<PictureFormat> format_of(std::string_view first_bytes);

// The head alone, without decoding. A Problem (field `photograph`) for anything but a PNG or JPEG,
// for more than largest_picture_bytes or largest_picture_pixels, and for a damaged head.
[[nodiscard]] Result<PictureHead> head_of(std::string_view bytes);

// The picture, turned upright and made smaller where a side is longer than `longest`, by the mean
// of the pixels that become one. Needs up to five bytes of memory a pixel of the file (200 MB at
// most). A Problem as with head_of, and where the file ends too early or is damaged.
// REQUIRES: longest >= 1.
[[nodiscard]] Result<Picture> decoded(std::string_view bytes, int longest);

}  // namespace coilbook::pictures
