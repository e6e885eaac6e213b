// Draws the page of one coil. The drawing files (*_part.cpp, coil_screen.cpp) show a View, edit a
// Form and post Commands; they compute nothing but places.
#pragma once

#include "bench/pages/coil/coil_actions.h"
#include "bench/widgets/field.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::coil_page {

// Fills the rest of the current window. Also watches the page's keys, and keeps the keyboard in a
// field, unless it is covered by something that has the keyboard now.
void draw(const Look& look, const Place& at, bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_who(const Look& look, const Place& at, float width, float height);
void draw_facts(const Look& look, const Place& at, float width, float height);
void draw_sink(const Look& look, const Place& at, float width, float height);
void draw_care(const Look& look, const Place& at, float width, float height);
void draw_photos(const Look& look, const Place& at, float width, float height);
void draw_history(const Look& look, const Place& at, float width, float height);

// A field for text at `spot`, as wide as there is room; gives whether Enter was pressed in it.
[[nodiscard]] bool draw_field(const Look& look, const Place& at, Spot spot, const FieldText& text,
                              std::string& typed);

}  // namespace coilbook::bench::coil_page
