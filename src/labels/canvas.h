// A page that can be drawn on, in millimetres. For the files of this folder only.
//
// Black on white, for bad light: nothing is grey, no line thinner than 0.15 mm, and colour says
// nothing.
#pragma once

#include <cairo.h>
#include <pango/pangocairo.h>

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "quantity/units.h"

namespace coilbook::labels {

// A rectangle on the page, in mm: from its left and top to the right and down. Drawing is
// arithmetic with positions on one page, so it is done in plain numbers of millimetres inside this
// folder.
struct Box {
    double x = 0, y = 0, width = 0, height = 0;

    [[nodiscard]] double right() const { return x + width; }
    [[nodiscard]] double bottom() const { return y + height; }
    // Smaller by `by` on every side.
    [[nodiscard]] Box inset(double by) const {
        return {x + by, y + by, width - 2 * by, height - 2 * by};
    }
};

enum class Weight { regular, medium, bold };
enum class Align { left, middle, right };

// How a text is set.
struct Type {
    double size = 3.0;  // of the font (its em), in mm
    Weight weight = Weight::regular;
    Align align = Align::left;
    double letter_spacing = 0.0;  // of the size
};

class Canvas {
  public:
    // Draws on `surface`, whose unit is `per_mm` to a millimetre. The surface must outlive it.
    // Throws Error where cairo cannot.
    Canvas(cairo_surface_t* surface, double per_mm);
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    void fill(const Box& box);
    void fill_white(const Box& box);
    void outline(const Box& box, double line);
    void stroke(double x1, double y1, double x2, double y2, double line, bool dashed = false);
    void dot(double x, double y, double radius);
    // The loop at a line's end: a ring of line, `height` high, that ends at (x, y) on its right.
    void ring(double x, double y, double length, double height, double line);

    // The text's width and height when it is set on one line.
    struct Extent {
        double width, height, baseline;
    };
    [[nodiscard]] Extent extent(std::string_view text, const Type& type);
    // One line into `box`, in the middle of its height; ends with "…" where it is too long.
    void line(std::string_view text, const Box& box, const Type& type);
    // The largest size, at most `most`, at which the text fits into the box on one line.
    [[nodiscard]] double fitting_size(std::string_view text, const Box& box, Type type,
                                      double most);
    // As one paragraph from the top of the box, as many lines as there is room for, "…" at the end
    // where that is not all. Gives the height that was used.
    double paragraph(std::string_view text, const Box& box, const Type& type);

    // cairo's own, for shapes of one file.
    [[nodiscard]] cairo_t* cairo() const { return cairo_.get(); }

  private:
    void set(std::string_view text, const Type& type);

    std::unique_ptr<cairo_t, decltype(&cairo_destroy)> cairo_;
    std::unique_ptr<PangoLayout, void (*)(PangoLayout*)> layout_;
};

// Throws Error when `surface` or what was drawn on it has failed.
void check(cairo_surface_t* surface);

// The bytes of a file that `draw` makes on a surface which `make` opens over them.
// REQUIRES: `make` passes the function and the closure on to cairo.
using MakeSurface = std::function<cairo_surface_t*(cairo_write_func_t, void*)>;
[[nodiscard]] std::string bytes_drawn(const MakeSurface& make,
                                      const std::function<void(cairo_surface_t*)>& draw);

inline constexpr double points_per_mm = 72.0 / 25.4;

}  // namespace coilbook::labels
