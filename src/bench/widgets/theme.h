// The colours of the window as plain values, light and dark, and the measure that keeps them
// legible.
//
// Colour is never the only sign: whatever a colour says is also said by a shape (marks.h) or a
// word. The limits that the test holds every theme to: text at least 4.5 : 1 against what it stands
// on, outlines of fields and marks in plots at least 3 : 1. Source: WCAG 2.1, success
// criteria 1.4.3 (text) and 1.4.11 (outlines and graphics).
#pragma once

#include <array>
#include <cstdint>

namespace coilbook::bench {

// One opaque sRGB colour.
struct Colour {
    std::uint8_t red = 0, green = 0, blue = 0;

    // From the usual notation: rgb(0x0A5FB4).
    [[nodiscard]] static constexpr Colour rgb(std::uint32_t hex) {
        return {static_cast<std::uint8_t>((hex >> 16) & 0xFF),
                static_cast<std::uint8_t>((hex >> 8) & 0xFF),
                static_cast<std::uint8_t>(hex & 0xFF)};
    }
    bool operator==(const Colour&) const = default;
};

// Contrast ratio of two colours, from 1 (the same) to 21 (black on white); the order is no matter.
// Source: WCAG 2.1, definitions of "contrast ratio" and "relative luminance" (sRGB, IEC 61966-2-1).
[[nodiscard]] double contrast(Colour a, Colour b);

struct Theme {
    Colour page;          // behind the cards
    Colour card;          // behind most text
    Colour raised;        // buttons, the row in hand, the track of a bar
    Colour border;        // round cards: decoration, not needed to find anything
    Colour field;         // inside a field
    Colour field_border;  // round a field: must be seen to find the field
    Colour text;
    Colour muted;  // secondary text
    Colour accent;
    Colour on_accent;  // text on the accent
    Colour good, warn, bad;
    Colour grid;                   // lines behind a plot: decoration
    std::array<Colour, 6> series;  // families and classes in plots and bars; each has a mark, too
};

enum class ThemeName { light, dark };

[[nodiscard]] const Theme& theme(ThemeName name);
[[nodiscard]] constexpr ThemeName other(ThemeName name) {
    return name == ThemeName::light ? ThemeName::dark : ThemeName::light;
}

}  // namespace coilbook::bench
