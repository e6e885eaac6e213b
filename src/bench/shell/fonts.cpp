#include "bench/shell/fonts.h"

#include <ft2build.h>
#include <imgui.h>
#include <imgui_freetype.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include FT_FREETYPE_H

#include "base/error.h"

extern "C" {
extern const unsigned char coilbook_inter_regular_begin[], coilbook_inter_regular_end[];
extern const unsigned char coilbook_inter_semibold_begin[], coilbook_inter_semibold_end[];
extern const unsigned char coilbook_inter_licence_begin[], coilbook_inter_licence_end[];
}

namespace coilbook::bench {
namespace {

using Bytes = std::span<const unsigned char>;

constexpr std::array<ImWchar, 3> digits{'0', '9', 0};
// Western and Central European, Greek and Cyrillic letters (people's names, σ and ρ), dashes and
// quotes, primes for feet and inches, fractions, arrows, and the signs that the pages use.
constexpr std::array<ImWchar, 21> letters{0x0020, 0x017F, 0x0370, 0x03FF, 0x0400, 0x045F, 0x2010,
                                          0x2026, 0x2030, 0x2044, 0x2070, 0x2089, 0x2190, 0x2199,
                                          0x2212, 0x2212, 0x2248, 0x2265, 0x23CE, 0x2713, 0};

// The widest figure as a share of the font's height, as FreeType will scale it.
float figure_width(Bytes font) {
    FT_Library library = nullptr;
    FT_Face face = nullptr;
    if (FT_Init_FreeType(&library) != 0) throw Error("the font library does not start");
    if (FT_New_Memory_Face(library, font.data(), static_cast<FT_Long>(font.size()), 0, &face) !=
        0) {
        FT_Done_FreeType(library);
        throw Error("the font inside the program cannot be read");
    }
    FT_Pos widest = 0;
    for (FT_ULong figure = '0'; figure <= '9'; ++figure) {
        if (FT_Load_Char(face, figure, FT_LOAD_NO_SCALE) == 0) {
            widest = std::max(widest, face->glyph->metrics.horiAdvance);
        }
    }
    const float share =
        static_cast<float>(widest) / static_cast<float>(face->ascender - face->descender);
    FT_Done_Face(face);
    FT_Done_FreeType(library);
    return share;
}

enum class Figures { one_width, natural };

ImFont* add(ImFontAtlas& atlas, Bytes font, float pixels, Figures figures) {
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    config.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
    auto* data = const_cast<unsigned char*>(font.data());  // the atlas only reads it
    const int size = static_cast<int>(font.size());

    if (figures == Figures::natural) {
        return atlas.AddFontFromMemoryTTF(data, size, pixels, &config, letters.data());
    }
    ImFontConfig for_digits = config;
    for_digits.GlyphMinAdvanceX = for_digits.GlyphMaxAdvanceX =
        std::round(figure_width(font) * pixels);
    ImFont* added = atlas.AddFontFromMemoryTTF(data, size, pixels, &for_digits, digits.data());
    config.MergeMode = true;  // glyphs that are there already stay
    atlas.AddFontFromMemoryTTF(data, size, pixels, &config, letters.data());
    return added;
}

}  // namespace

Fonts build_fonts(ImFontAtlas& atlas, float scale) {
    const Bytes regular(coilbook_inter_regular_begin, coilbook_inter_regular_end);
    const Bytes semibold(coilbook_inter_semibold_begin, coilbook_inter_semibold_end);
    const auto size = [scale](float at_one) { return std::round(at_one * scale); };

    atlas.Clear();
    atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    Fonts fonts;
    fonts.text = add(atlas, regular, size(18), Figures::one_width);
    fonts.small = add(atlas, regular, size(15), Figures::one_width);
    fonts.strong = add(atlas, semibold, size(18), Figures::natural);
    fonts.title = add(atlas, semibold, size(23), Figures::natural);
    fonts.figure = add(atlas, semibold, size(30), Figures::natural);
    if (!atlas.Build()) throw Error("the fonts cannot be drawn");
    return fonts;
}

std::string_view font_licence() {
    return {reinterpret_cast<const char*>(coilbook_inter_licence_begin),
            static_cast<std::size_t>(coilbook_inter_licence_end - coilbook_inter_licence_begin)};
}

}  // namespace coilbook::bench
