// How the window looks just now: colours, type and scale. Handed to everything that draws.
#pragma once

#include "bench/widgets/theme.h"

struct ImFont;

namespace coilbook::bench {

class NumberHelp;
class PhotoKeeper;
class Witness;

// Inter in the sizes that the window uses. Small and text have figures of one width.
struct Fonts {
    ImFont* small = nullptr;   // notes, axis labels
    ImFont* text = nullptr;    // everything else
    ImFont* strong = nullptr;  // the same size, semibold: names, card titles
    ImFont* title = nullptr;   // the coil in hand
    ImFont* figure = nullptr;  // the verdict
};

struct Look {
    const Theme* theme = nullptr;  // never null while drawing
    Fonts fonts;
    bool is_large = false;       // for cold fingers: one thing at a time, where a page can do that
    float scale = 1.0F;          // 2 on a screen of double density
    Witness* witness = nullptr;  // only in tests: is told what was drawn where
    PhotoKeeper* photos = nullptr;  // not in tests
    NumberHelp* help = nullptr;     // is told where numbers stand; see number_help.h

    // A length that is `at_one` pixels at scale 1.
    [[nodiscard]] float px(float at_one) const { return at_one * scale; }
};

}  // namespace coilbook::bench
