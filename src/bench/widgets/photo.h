// A photograph in the window, as large as fits, and what keeps its pixels where it is drawn from.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "bench/widgets/look.h"

namespace coilbook::bench {

// Rows from the top; red, green, blue and opacity, a byte each.
struct Photo {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba;
    std::string key;  // tells it from all others; its pixels never change

    bool operator==(const Photo& other) const { return key == other.key; }
};

// Gives photographs to the graphics library. The shell has one; tests draw without.
class PhotoKeeper {
  public:
    PhotoKeeper() = default;
    PhotoKeeper(const PhotoKeeper&) = delete;
    PhotoKeeper& operator=(const PhotoKeeper&) = delete;
    virtual ~PhotoKeeper() = default;

    // What the widget library draws it by; may be nothing. Kept until others were asked for since.
    [[nodiscard]] virtual void* texture_of(const Photo& photo) = 0;
};

// In the middle of a box of that size, never larger than its pixels at this scale.
void draw_photo(const Look& look, const char* id, const Photo& photo, float width, float height);

}  // namespace coilbook::bench
