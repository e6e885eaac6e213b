// What a picture is drawn with: the window (screen_pen.h), a file, or a test that takes notes.
//
// Marks and plots are drawn with a Pen and know nothing of where it draws. Lengths are in pixels, x
// to the right and y downwards.
#pragma once

#include <span>
#include <string_view>

#include "bench/widgets/theme.h"

namespace coilbook::bench {

struct Place {
    float x = 0, y = 0;
    bool operator==(const Place&) const = default;
};

struct Rectangle {
    Place low, high;  // upper left and lower right corner

    [[nodiscard]] float width() const { return high.x - low.x; }
    [[nodiscard]] float height() const { return high.y - low.y; }
    [[nodiscard]] Place middle() const { return {(low.x + high.x) / 2, (low.y + high.y) / 2}; }
    [[nodiscard]] bool holds(Place place) const {
        return place.x >= low.x && place.x <= high.x && place.y >= low.y && place.y <= high.y;
    }
    [[nodiscard]] bool holds(const Rectangle& other) const {
        return holds(other.low) && holds(other.high);
    }
};
// Whether they share more than an edge.
[[nodiscard]] bool overlap(const Rectangle& one, const Rectangle& other);

struct Ink {
    Colour colour;
    float opacity = 1.0F;  // 0 to 1
};

// The type of the window that a picture uses.
enum class Face { small, text, strong };

// How a line is drawn, so that colour is not the only sign of a series.
enum class Stroke { solid, dashed, dotted, dash_dotted };
// Lengths of ink and of nothing in turn, as multiples of the line's width; empty for a solid line.
[[nodiscard]] std::span<const float> pattern_of(Stroke stroke);

struct LineLook {
    Ink ink;
    float width = 1.0F;
    Stroke stroke = Stroke::solid;
    bool is_closed = false;  // back to where it began
};

class Pen {
  public:
    Pen() = default;
    Pen(const Pen&) = delete;
    Pen& operator=(const Pen&) = delete;
    virtual ~Pen() = default;

    // Width and height of one line of text.
    [[nodiscard]] virtual Place extent(Face face, std::string_view text) const = 0;

    // A convex shape, its corners clockwise on the screen.
    virtual void fill(std::span<const Place> corners, Ink ink) = 0;
    virtual void stroke(std::span<const Place> points, const LineLook& look) = 0;
    virtual void fill_box(const Rectangle& box, Ink ink, float rounding = 0) = 0;
    virtual void fill_circle(Place centre, float radius, Ink ink) = 0;
    virtual void ring(Place centre, float radius, Ink ink, float width) = 0;
    // Many discs at once, each of a handful of pixels.
    virtual void dots(std::span<const Place> centres, float radius, Ink ink) = 0;
    virtual void write(Face face, Place upper_left, Ink ink, std::string_view text) = 0;
    // Round its middle, turned anticlockwise by `turn` radians.
    virtual void write_turned(Face face, Place middle, float turn, Ink ink,
                              std::string_view text) = 0;
    // What is drawn until unclip() is seen only inside of `box`.
    virtual void clip(const Rectangle& box) = 0;
    virtual void unclip() = 0;
};

class PenClip {
  public:
    PenClip(Pen& pen, const Rectangle& box) : pen_(pen) { pen_.clip(box); }
    ~PenClip() { pen_.unclip(); }
    PenClip(const PenClip&) = delete;
    PenClip& operator=(const PenClip&) = delete;

  private:
    Pen& pen_;
};

}  // namespace coilbook::bench
