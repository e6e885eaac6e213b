// Draws the page of the instruments. The drawing files (*_part.cpp, instruments_screen.cpp) show a
// View, edit a Form and post Commands; they compute nothing but places.
#pragma once

#include <string_view>

#include "bench/pages/instruments/instruments_actions.h"
#include "bench/widgets/field.h"
#include "bench/widgets/look.h"

namespace coilbook::bench::instruments_page {

// Fills the rest of the current window. Also watches the page's keys, and keeps the keyboard in its
// fields, unless it is covered by something that has the keyboard now.
void draw(const Look& look, const Place& at, bool is_covered = false);

// Its parts; `width` and `height` in pixels.
void draw_list(const Look& look, const Place& at, float width, float height);
void draw_about(const Look& look, const Place& at, float width, float height);
void draw_check(const Look& look, const Place& at, float width, float height);
void draw_figures(const Look& look, const Place& at, float width, float height);
void draw_study(const Look& look, const Place& at, float width, float height);
void draw_result(const Look& look, const Place& at, float width, float height);
void draw_study_result(const Look& look, const Place& at, float width, float height);

// Pieces that the parts share. Each leaves the cursor below itself.
// A field of the form at `spot`. Gives whether Enter was pressed in it.
bool draw_field(const Look& look, const Place& at, Spot spot, const char* id, const Field& field,
                std::string& typed, const FieldPlace& place);
void draw_sentence(const Look& look, const char* name, const Sentence& sentence);
// How a thing is done, in small letters, a dot before each sentence.
void draw_how(const Look& look, const char* title, const std::vector<std::string>& sentences);

}  // namespace coilbook::bench::instruments_page
