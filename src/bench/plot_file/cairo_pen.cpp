#include "bench/plot_file/cairo_pen.h"

#include <algorithm>
#include <numbers>
#include <string>
#include <vector>

#include "bench/plot_file/picture_type.h"

namespace coilbook::bench {
namespace {

constexpr double pi = std::numbers::pi;

double size_of(Face face) {
    return face == Face::small ? 14.0 : 16.0;
}

}  // namespace

void CairoPen::use(Ink ink) {
    cairo_set_source_rgba(&cairo_, ink.colour.red / 255.0, ink.colour.green / 255.0,
                          ink.colour.blue / 255.0, ink.opacity);
}

void CairoPen::use(Face face) const {
    const PictureType& type = picture_type();
    cairo_set_font_face(&cairo_, face == Face::strong ? type.semibold : type.regular);
    cairo_set_font_size(&cairo_, size_of(face));
}

Place CairoPen::extent(Face face, std::string_view text) const {
    use(face);
    cairo_text_extents_t extents;
    cairo_text_extents(&cairo_, std::string(text).c_str(), &extents);
    return {static_cast<float>(extents.x_advance), static_cast<float>(size_of(face) * 1.2)};
}

void CairoPen::fill(std::span<const Place> corners, Ink ink) {
    use(ink);
    for (const Place corner : corners) cairo_line_to(&cairo_, corner.x, corner.y);
    cairo_close_path(&cairo_);
    cairo_fill(&cairo_);
}

void CairoPen::stroke(std::span<const Place> points, const LineLook& look) {
    use(look.ink);
    std::vector<double> dashes;
    for (const float part : pattern_of(look.stroke)) dashes.push_back(part * look.width);
    cairo_set_dash(&cairo_, dashes.data(), static_cast<int>(dashes.size()), 0.0);
    cairo_set_line_width(&cairo_, look.width);
    cairo_set_line_join(&cairo_, CAIRO_LINE_JOIN_ROUND);
    for (const Place point : points) cairo_line_to(&cairo_, point.x, point.y);
    if (look.is_closed) cairo_close_path(&cairo_);
    cairo_stroke(&cairo_);
    cairo_set_dash(&cairo_, nullptr, 0, 0.0);
}

void CairoPen::fill_box(const Rectangle& box, Ink ink, float rounding) {
    use(ink);
    const double r =
        std::min({static_cast<double>(rounding), box.width() / 2.0, box.height() / 2.0});
    if (r <= 0.0) {
        cairo_rectangle(&cairo_, box.low.x, box.low.y, box.width(), box.height());
    } else {
        cairo_new_sub_path(&cairo_);
        cairo_arc(&cairo_, box.high.x - r, box.low.y + r, r, -pi / 2, 0);
        cairo_arc(&cairo_, box.high.x - r, box.high.y - r, r, 0, pi / 2);
        cairo_arc(&cairo_, box.low.x + r, box.high.y - r, r, pi / 2, pi);
        cairo_arc(&cairo_, box.low.x + r, box.low.y + r, r, pi, 1.5 * pi);
        cairo_close_path(&cairo_);
    }
    cairo_fill(&cairo_);
}

void CairoPen::fill_circle(Place centre, float radius, Ink ink) {
    use(ink);
    cairo_new_sub_path(&cairo_);
    cairo_arc(&cairo_, centre.x, centre.y, radius, 0, 2 * pi);
    cairo_fill(&cairo_);
}

void CairoPen::ring(Place centre, float radius, Ink ink, float width) {
    use(ink);
    cairo_set_line_width(&cairo_, width);
    cairo_new_sub_path(&cairo_);
    cairo_arc(&cairo_, centre.x, centre.y, radius, 0, 2 * pi);
    cairo_stroke(&cairo_);
}

void CairoPen::dots(std::span<const Place> centres, float radius, Ink ink) {
    for (const Place centre : centres) fill_circle(centre, radius, ink);
}

void CairoPen::write(Face face, Place upper_left, Ink ink, std::string_view text) {
    const Place size = extent(face, text);
    write_turned(face, {upper_left.x + size.x / 2, upper_left.y + size.y / 2}, 0.0F, ink, text);
}

void CairoPen::write_turned(Face face, Place middle, float turn, Ink ink, std::string_view text) {
    const Place size = extent(face, text);
    cairo_font_extents_t font;
    cairo_font_extents(&cairo_, &font);
    use(ink);
    cairo_save(&cairo_);
    cairo_translate(&cairo_, middle.x, middle.y);
    cairo_rotate(&cairo_, -turn);
    // The middle of the capitals on the middle of the line.
    cairo_move_to(&cairo_, -size.x / 2, (font.ascent - font.descent) / 2);
    cairo_show_text(&cairo_, std::string(text).c_str());
    cairo_restore(&cairo_);
    cairo_new_path(&cairo_);
}

void CairoPen::clip(const Rectangle& box) {
    cairo_save(&cairo_);
    cairo_rectangle(&cairo_, box.low.x, box.low.y, box.width(), box.height());
    cairo_clip(&cairo_);
}

void CairoPen::unclip() {
    cairo_restore(&cairo_);
}

}  // namespace coilbook::bench
