// The courses of a plot: lines with the bands that they are sure to.
#include <array>

#include "bench/widgets/plot_picture.h"

namespace coilbook::bench {
namespace {

// Piece by piece, since a pen fills convex shapes alone.
void draw_band_of(Pen& pen, const PlotLook& look, const PlotCourse& course,
                  const PlotFrame& frame) {
    const Ink ink{look.series(course.series), 0.16F};
    for (std::size_t at = 1; at < course.points.size(); ++at) {
        const auto& one = course.points[at - 1];
        const auto& two = course.points[at];
        if (!(one.sure > 0) && !(two.sure > 0)) continue;
        const std::array<Place, 4> piece{
            frame.at(one.x, one.y + one.sure), frame.at(two.x, two.y + two.sure),
            frame.at(two.x, two.y - two.sure), frame.at(one.x, one.y - one.sure)};
        pen.fill(piece, ink);
    }
}

void draw_line_of(Pen& pen, const PlotLook& look, const PlotCourse& course,
                  const PlotFrame& frame) {
    std::vector<Place> line, above, below;
    bool has_band = false;
    for (const auto& each : course.points) {
        line.push_back(frame.at(each.x, each.y));
        above.push_back(frame.at(each.x, each.y + each.sure));
        below.push_back(frame.at(each.x, each.y - each.sure));
        has_band = has_band || each.sure > 0;
    }
    const Colour colour = look.series(course.series);
    if (has_band) {
        pen.stroke(above, {{colour, 0.5F}, look.px(1)});
        pen.stroke(below, {{colour, 0.5F}, look.px(1)});
    }
    pen.stroke(line, {{look.theme.field}, look.px(5)});
    pen.stroke(line, {{colour}, look.px(2.4F), course.stroke});
}

}  // namespace

void draw_courses(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame) {
    for (auto each = view.courses.rbegin(); each != view.courses.rend(); ++each) {
        draw_band_of(pen, look, *each, frame);
    }
    for (auto each = view.courses.rbegin(); each != view.courses.rend(); ++each) {
        draw_line_of(pen, look, *each, frame);
    }
}

}  // namespace coilbook::bench
