// Keys by name. Printable keys are their ASCII capital as the person's keyboard layout has them.
#pragma once

#include <string>

namespace coilbook::bench {

// Numbers as GLFW has them (static_assert-ed in shell/window.cpp); here without its header.
namespace key {
inline constexpr int escape = 256, enter = 257, tab = 258, backspace = 259, insert = 260, del = 261,
                     right = 262, left = 263, down = 264, up = 265, page_up = 266, page_down = 267,
                     home = 268, end = 269, pad_minus = 333, pad_plus = 334, pad_enter = 335,
                     f1 = 290, f2 = 291, f3 = 292, f4 = 293, f5 = 294, f6 = 295, f7 = 296, f8 = 297,
                     f9 = 298, f10 = 299, f11 = 300, f12 = 301, left_shift = 340,
                     left_control = 341, left_alt = 342, left_super = 343, right_shift = 344,
                     right_control = 345, right_alt = 346, right_super = 347;
inline constexpr int first_modifier = left_shift, last_modifier = right_super;
inline constexpr int count = 512;  // every key is below this
}  // namespace key

// A key and what is held down with it.
struct Chord {
    int key = 0;
    bool control = false, shift = false, alt = false;

    bool operator==(const Chord&) const = default;
};
[[nodiscard]] constexpr Chord plain(int key) {
    return {key};
}
[[nodiscard]] constexpr Chord control(int key) {
    return {key, true};
}
[[nodiscard]] constexpr Chord control_shift(int key) {
    return {key, true, true};
}
[[nodiscard]] constexpr Chord alt(int key) {
    return {key, false, false, true};
}

// Whether it went down in this frame, with nothing else held; without Ctrl or Alt also while it is
// held and repeats. Enter is either of the two.
[[nodiscard]] bool pressed(const Chord& chord);
// As it is told to a person: "Ctrl Enter", "Alt 2", "F5".
[[nodiscard]] std::string name_of(const Chord& chord);

// Whether a character was typed in this frame, wherever it went.
[[nodiscard]] bool typed_something();

// Whether `key` went down in this frame while Ctrl was held; Shift is no matter.
[[nodiscard]] bool control_pressed(int key);
// Whether `key` went down in this frame, or is held and repeats, with no modifier.
[[nodiscard]] bool plain_pressed(int key);

}  // namespace coilbook::bench
