// The type of the window: Inter, carried inside the program, drawn by FreeType.
//
// Figures of running text get one advance, so that numbers in a column stand under one another; in
// titles and names they keep their own ("T-11" looks torn otherwise).
#pragma once

#include <string_view>

#include "bench/widgets/look.h"

struct ImFontAtlas;

namespace coilbook::bench {

// Fills `atlas` anew with all sizes at `scale` and gives the fonts in it. What was in it is gone.
// The texture is for the caller to renew. Throws Error if the fonts cannot be read.
[[nodiscard]] Fonts build_fonts(ImFontAtlas& atlas, float scale);

// The licence under which the fonts may travel inside the program, as its packagers state it.
[[nodiscard]] std::string_view font_licence();

}  // namespace coilbook::bench
