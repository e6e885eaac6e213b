// What each library does for picture.h. For this folder only.
#pragma once

#include <string>

#include "pictures/picture.h"

namespace coilbook::pictures {

// As in the file, not turned. `problem` says what went wrong in the library's words; then `picture`
// is empty.
struct Decoded {
    Picture picture;
    std::string problem;
};

// Width and height in `picture`, no pixels.
[[nodiscard]] Decoded png_head(std::string_view bytes);
[[nodiscard]] Decoded png_pixels(std::string_view bytes);
[[nodiscard]] Decoded jpeg_head(std::string_view bytes);
// May be smaller than in the file, by a half, a quarter or an eighth, with its longer side still at
// least `longest`.
[[nodiscard]] Decoded jpeg_pixels(std::string_view bytes, int longest);

}  // namespace coilbook::pictures
