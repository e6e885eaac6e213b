// The QR code of a thing: a square of dark and light modules that holds its plain code and nothing
// else, so that any reader shows the code itself, without a network, and a scanner that types finds
// the thing in the window.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"

namespace coilbook::labels {

struct QrSquare {
    int side = 0;            // modules: 21, 25, …
    std::vector<bool> dark;  // side x side, row by row

    [[nodiscard]] bool is_dark(int column, int row) const {
        return dark[static_cast<std::size_t>(row * side + column)];
    }
};

// How many light modules belong around it. Source: ISO/IEC 18004 (from memory).
inline constexpr int quiet_zone = 4;

// The smallest square that holds `text`, with the strongest error correction that fits into it: a
// given code of six characters gets 21 x 21 modules at level H, where three of ten may be lost.
// A Problem for an empty text and for one of more than 200 bytes.
[[nodiscard]] Result<QrSquare> qr_of(const std::string& text);

}  // namespace coilbook::labels
