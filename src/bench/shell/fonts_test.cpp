#include "bench/shell/fonts.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include <algorithm>
#include <sstream>
#include <string>

#include "bench/widgets/type.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

float width(const ImFont* font, const char* text) {
    return font->CalcTextSizeA(font->FontSize, 1e6F, 0, text).x;
}

}  // namespace

TEST_SUITE("Type") {
    TEST_CASE("figures in fields and lists are of one width, so that columns stand straight") {
        for (const float scale : {1.0F, 1.25F, 2.0F}) {
            CAPTURE(scale);
            ImFontAtlas atlas;
            const Fonts fonts = build_fonts(atlas, scale);
            for (const ImFont* font : {fonts.small, fonts.text}) {
                CAPTURE(font->FontSize);
                CHECK(near(width(font, "1111"), width(font, "0000"), 1e-3));
                CHECK(near(width(font, "74.19"), width(font, "88.88"), 1e-3));
                CHECK(width(font, "i") < width(font, "m"));  // but letters are not
            }
        }
    }

    TEST_CASE("every sign that the window writes is in the font") {
        ImFontAtlas atlas;
        const Fonts fonts = build_fonts(atlas, 1.0F);
        for (const ImWchar sign :
             {u'±', u'°', u'½', u'¼', u'×', u'·', u'–', u'—', u'…', u'′', u'″', u'≤', u'≥',
              u'≈', u'→', u'↑', u'↓', u'←', u'⏎', u'✓', u'−', u'σ', u'ρ', u'ł', u'ß'}) {
            CAPTURE(static_cast<int>(sign));
            CHECK(fonts.text->FindGlyphNoFallback(sign) != nullptr);
            CHECK(fonts.small->FindGlyphNoFallback(sign) != nullptr);
        }
    }

    TEST_CASE("lines are broken at blanks, and never within a number") {
        ImFontAtlas atlas;
        const ImFont* font = build_fonts(atlas, 1.0F).small;
        const std::string text = "0.842, 0.845, 0.848: mean 0.845";
        for (float room = 10; room < 300; room += 7) {
            CAPTURE(room);
            std::string lines = in_lines(font, text, room);
            std::string line;
            std::istringstream stream(lines);
            while (std::getline(stream, line)) {
                CHECK((extent(font, line).x <= room || line.find(' ') == std::string::npos));
            }
            std::ranges::replace(lines, '\n', ' ');
            CHECK(lines == text);
        }
    }

    TEST_CASE("what is too long for its place ends in an ellipsis") {
        ImFontAtlas atlas;
        const ImFont* font = build_fonts(atlas, 1.0F).text;
        CHECK(cut_to(font, "T-11", 200) == "T-11");
        const std::string cut = cut_to(font, "größer als der Platz", 80);
        CHECK(cut.ends_with("…"));
        CHECK(extent(font, cut).x <= 80);
    }

    TEST_CASE("twice the scale is twice the size") {
        ImFontAtlas one, two;
        CHECK(near(2.0F * build_fonts(one, 1.0F).text->FontSize,
                   build_fonts(two, 2.0F).text->FontSize, 1e-3));
    }

    TEST_CASE("the font's licence travels with it") {
        CHECK(font_licence().find("OFL-1.1") != std::string_view::npos);
    }
}
