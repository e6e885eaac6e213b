#include "bench/widgets/theme.h"

#include <algorithm>
#include <cmath>

namespace coilbook::bench {
namespace {

constexpr Theme light{
    .page = Colour::rgb(0xEBF0F4),
    .card = Colour::rgb(0xFFFFFF),
    .raised = Colour::rgb(0xE6ECF2),
    .border = Colour::rgb(0xC9D4DD),
    .field = Colour::rgb(0xFBFCFD),
    .field_border = Colour::rgb(0x76889A),
    .text = Colour::rgb(0x13202C),
    .muted = Colour::rgb(0x485968),
    .accent = Colour::rgb(0x0A5FB4),
    .on_accent = Colour::rgb(0xFFFFFF),
    .good = Colour::rgb(0x0A6E44),
    .warn = Colour::rgb(0x855600),
    .bad = Colour::rgb(0xB3261E),
    .grid = Colour::rgb(0xDFE6EC),
    .series = {Colour::rgb(0x0A5FB4), Colour::rgb(0xB25700), Colour::rgb(0x0A7A4B),
               Colour::rgb(0x8B3FA8), Colour::rgb(0x5A6B7A), Colour::rgb(0xB3261E)},
};

constexpr Theme dark{
    .page = Colour::rgb(0x0E151C),
    .card = Colour::rgb(0x17212B),
    .raised = Colour::rgb(0x243342),
    .border = Colour::rgb(0x33475A),
    .field = Colour::rgb(0x0F1820),
    .field_border = Colour::rgb(0x72889C),
    .text = Colour::rgb(0xEAF1F7),
    .muted = Colour::rgb(0xABBCCB),
    .accent = Colour::rgb(0x56C2FF),
    .on_accent = Colour::rgb(0x06202F),
    .good = Colour::rgb(0x57D9A3),
    .warn = Colour::rgb(0xFFC857),
    .bad = Colour::rgb(0xFF8A80),
    .grid = Colour::rgb(0x2A3948),
    .series = {Colour::rgb(0x56C2FF), Colour::rgb(0xFFB454), Colour::rgb(0x57D9A3),
               Colour::rgb(0xD6A0F0), Colour::rgb(0xABBCCB), Colour::rgb(0xFF8A80)},
};

// The share of light that one channel stands for, 0 to 1.
double linear(std::uint8_t channel) {
    const double share = channel / 255.0;
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
}

double luminance(Colour colour) {
    return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) +
           0.0722 * linear(colour.blue);
}

}  // namespace

double contrast(Colour a, Colour b) {
    const auto [darker, lighter] = std::minmax({luminance(a), luminance(b)});
    return (lighter + 0.05) / (darker + 0.05);
}

const Theme& theme(ThemeName name) {
    return name == ThemeName::light ? light : dark;
}

}  // namespace coilbook::bench
