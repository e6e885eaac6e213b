// Fields to type a reading into: label, large target, unit on the same line, and what the program
// made of it beside the field.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "bench/widgets/look.h"

namespace coilbook::bench {

// Frames that a field needs to get the keyboard, with one to spare (see shell/input_queue.h).
inline constexpr int frames_to_take_focus = 3;

// Counts `frames_to_focus` down. If nothing has the keyboard, such as after a click on a button, it
// gives true: the page then gives it to its field again, since a device that types must never type
// into nothing.
[[nodiscard]] bool has_lost_keyboard(int& frames_to_focus);

struct FieldText {
    std::string_view id;      // its identity
    std::string_view label;   // "Sample weight"
    std::string_view unit;    // what a bare number is taken for: "gr"; may be empty
    std::string_view note;    // what was understood, or what would be
    std::string_view error;   // what is wrong with it; takes the place of the note
    std::string_view hint;    // shown faintly while the field is empty
    bool saved = false;       // a check mark before the label
    bool wanted = false;      // the reading that would help most
    bool takes_space = true;  // else the space bar types nothing here
    bool rewritten = false;   // in this frame, not by typing: even a field being edited must know
    std::string_view help = {};  // on its label: what belongs there
};

struct FieldPlace {
    float label_width = 0;  // 0: the label stands above the field
    float field_width = 0;
    float height = 0;     // of the field; 0 for the usual
    float kept_free = 0;  // at the right edge, for something of the caller's
};

struct FieldResult {
    bool entered = false;  // Enter was pressed in it
    bool active = false;   // it holds the keyboard
    bool space = false;    // the space bar was pressed in it where it types nothing
};

// `take_focus`: it gets the keyboard in the next frames, with its text selected; not while a button
// of the mouse is down, or the click would be lost.
FieldResult number_field(const Look& look, const FieldText& text, const FieldPlace& place,
                         std::string& typed, bool take_focus);

// A field for one of a few words, all of them shown: typed like any other, or picked by mouse or
// by Left and Right. `picked` is the index of the word that `typed` means, or -1; picking a word
// writes it into `typed`, and picking it by mouse counts as Enter.
FieldResult choice_field(const Look& look, const FieldText& text, const FieldPlace& place,
                         std::span<const std::string_view> words, int picked, std::string& typed,
                         bool take_focus);

}  // namespace coilbook::bench
