// How a camera was held, and turning its picture upright.
//
// Source: CIPA DC-008 (Exif), tag 0x0112 "Orientation", values 1 to 8 as in TIFF 6.0; where the tag
// stands in a JPEG file is from memory (an APP1 segment that begins with "Exif", a TIFF head, its
// first directory).
#pragma once

#include <string_view>

#include "pictures/picture.h"

namespace coilbook::pictures {

// Which corner of the stored picture is the upper left one, and which way its rows run: 1 to 8; 1,
// upright, for anything that does not say so clearly. `bytes` may be any bytes.
[[nodiscard]] int orientation_of(std::string_view bytes);

// Whether width and height change places.
[[nodiscard]] bool swaps_sides(int orientation);

// REQUIRES: 1 to 8.
[[nodiscard]] Picture upright(const Picture& picture, int orientation);

}  // namespace coilbook::pictures
