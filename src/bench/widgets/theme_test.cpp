#include "bench/widgets/theme.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

TEST_SUITE("Colours") {
    TEST_CASE("contrast runs from 1 to 21") {
        const Colour black = Colour::rgb(0x000000), white = Colour::rgb(0xFFFFFF);
        CHECK(near(contrast(black, white), 21.0, 1e-9));
        CHECK(near(contrast(white, black), 21.0, 1e-9));
        CHECK(near(contrast(white, white), 1.0, 1e-9));
    }

    TEST_CASE("a worked example: mid grey on white") {
        // 0x77 = 119; 119/255 = 0.46667; ((0.46667 + 0.055) / 1.055)^2.4 = 0.18447;
        // 1.05 / (0.18447 + 0.05) = 4.478: famously just too weak for text.
        CHECK(near(contrast(Colour::rgb(0x777777), Colour::rgb(0xFFFFFF)), 4.478, 0.001));
    }

    TEST_CASE("text is legible wherever it stands, in both themes") {
        for (const ThemeName name : {ThemeName::light, ThemeName::dark}) {
            CAPTURE(static_cast<int>(name));
            const Theme& each = theme(name);
            for (const Colour ground : {each.page, each.card, each.raised, each.field}) {
                CAPTURE(static_cast<int>(ground.red));
                CHECK(contrast(each.text, ground) >= 4.5);
                CHECK(contrast(each.muted, ground) >= 4.5);
                CHECK(contrast(each.good, ground) >= 4.5);
                CHECK(contrast(each.warn, ground) >= 4.5);
                CHECK(contrast(each.bad, ground) >= 4.5);
                CHECK(contrast(each.accent, ground) >= 4.5);
            }
            CHECK(contrast(each.on_accent, each.accent) >= 4.5);
        }
    }

    TEST_CASE("the outline of a field is seen against the field and what is round it") {
        for (const ThemeName name : {ThemeName::light, ThemeName::dark}) {
            CAPTURE(static_cast<int>(name));
            const Theme& each = theme(name);
            for (const Colour ground : {each.page, each.card, each.field, each.raised}) {
                CHECK(contrast(each.field_border, ground) >= 3.0);
                CHECK(contrast(each.accent, ground) >= 3.0);  // the field in hand
            }
        }
    }

    TEST_CASE("marks and bars are seen on a card and on the track of a bar") {
        for (const ThemeName name : {ThemeName::light, ThemeName::dark}) {
            CAPTURE(static_cast<int>(name));
            const Theme& each = theme(name);
            for (const Colour series : each.series) {
                CAPTURE(static_cast<int>(series.red));
                CHECK(contrast(series, each.card) >= 3.0);
                CHECK(contrast(series, each.raised) >= 3.0);
            }
        }
    }
}
