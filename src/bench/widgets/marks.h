// Small shapes that say what colours say, for eyes that do not tell colours apart.
#pragma once

#include "bench/widgets/pen.h"
#include "bench/widgets/theme.h"

struct ImDrawList;

namespace coilbook::bench {

enum class Mark {
    ring,      // nothing known yet
    half,      // begun
    diamond,   // ready for a decision
    check,     // done
    disc,      // first series of a plot
    square,    // second
    triangle,  // third
    cross,     // fourth
    alike,     // the same under another name
    warning,   // look at this
};

// Draws `mark` round `at`, about 2 * `radius` wide, in `colour`; `ground` is what it stands on.
void draw_mark(Pen& pen, Mark mark, Place at, float radius, Colour colour, Colour ground);
// The same in the window, round (x, y).
void draw_mark(ImDrawList& list, Mark mark, float x, float y, float radius, Colour colour,
               Colour ground);

}  // namespace coilbook::bench
