// The type of pictures in files: Inter, carried inside the program, so that they look alike
// everywhere and no configuration of the system is asked.
#pragma once

#include <cairo.h>

namespace coilbook::bench {

struct PictureType {
    cairo_font_face_t* regular = nullptr;
    cairo_font_face_t* semibold = nullptr;
};

// Made once and kept for the life of the program, since Cairo keeps what it has drawn with. Throws
// Error if the fonts cannot be read.
[[nodiscard]] const PictureType& picture_type();

}  // namespace coilbook::bench
