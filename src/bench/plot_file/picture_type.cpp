#include "bench/plot_file/picture_type.h"

#include <cairo-ft.h>
#include <ft2build.h>

#include <span>
#include FT_FREETYPE_H

#include "base/error.h"

extern "C" {
extern const unsigned char coilbook_inter_regular_begin[], coilbook_inter_regular_end[];
extern const unsigned char coilbook_inter_semibold_begin[], coilbook_inter_semibold_end[];
}

namespace coilbook::bench {
namespace {

using Bytes = std::span<const unsigned char>;

cairo_font_face_t* face_from(FT_Library library, Bytes font) {
    FT_Face face = nullptr;
    if (FT_New_Memory_Face(library, font.data(), static_cast<FT_Long>(font.size()), 0, &face) !=
        0) {
        throw Error("the font inside the program cannot be read");
    }
    return cairo_ft_font_face_create_for_ft_face(face, 0);
}

PictureType read_type() {
    static FT_Library library = nullptr;  // the faces live in it
    if (FT_Init_FreeType(&library) != 0) throw Error("the font library does not start");
    return {face_from(library, {coilbook_inter_regular_begin, coilbook_inter_regular_end}),
            face_from(library, {coilbook_inter_semibold_begin, coilbook_inter_semibold_end})};
}

}  // namespace

const PictureType& picture_type() {
    static const PictureType type = read_type();
    return type;
}

}  // namespace coilbook::bench
