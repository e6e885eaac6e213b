#include "bench/widgets/plot_frame.h"

#include <cmath>
#include <numbers>

namespace coilbook::bench {

std::optional<PlotFrame> frame_in(const Rectangle& box, const PlotWindow& shown,
                                  const PlotLook& look, float line_height, int legend_lines,
                                  float label_width) {
    const float lines = static_cast<float>(1 + legend_lines);
    const float below = line_height * lines + look.px(16 + 4.0F * (lines - 2));
    // Mostly the same, so that it does not jump while one looks closer.
    const float left = std::max(look.px(52), line_height + label_width + look.px(11));
    const PlotFrame frame{
        {{box.low.x + left, box.low.y + look.px(4)}, {box.high.x - look.px(6), box.high.y - below}},
        shown};
    if (frame.inside.width() < look.px(60) || frame.inside.height() < look.px(40)) {
        return std::nullopt;
    }
    return frame;
}

// The points (ln x, ln y) = centre + reach * L (cos t, sin t), with L the Cholesky root of the
// covariance: [sx, 0; r sy, sy sqrt(1 - r²)].
EllipseOutline outline_of(const PlotEllipse& ellipse, const PlotFrame& frame) {
    EllipseOutline points;
    const double r = std::clamp(ellipse.correlation, -0.9999, 0.9999);
    const double across = std::sqrt(1.0 - r * r);
    for (int index = 0; index < ellipse_corners; ++index) {
        const double t = -2.0 * std::numbers::pi * index / ellipse_corners;
        const double u = ellipse.reach * std::cos(t), v = ellipse.reach * std::sin(t);
        points[static_cast<std::size_t>(index)] =
            frame.at(ellipse.x * std::exp(ellipse.sd_ln_x * u),
                     ellipse.y * std::exp(ellipse.sd_ln_y * (r * u + across * v)));
    }
    return points;
}

Rectangle box_round(std::span<const Place> outline) {
    Rectangle box{outline.front(), outline.front()};
    for (const Place place : outline) {
        box.low = {std::min(box.low.x, place.x), std::min(box.low.y, place.y)};
        box.high = {std::max(box.high.x, place.x), std::max(box.high.y, place.y)};
    }
    return box;
}

double distance(const PlotEllipse& ellipse, PlotXy from) {
    if (!(ellipse.sd_ln_x > 0) || !(ellipse.sd_ln_y > 0)) return 1e9;
    const double r = std::clamp(ellipse.correlation, -0.9999, 0.9999);
    const double a = std::log(from.x / ellipse.x) / ellipse.sd_ln_x;
    const double b = std::log(from.y / ellipse.y) / ellipse.sd_ln_y;
    return std::sqrt(std::max(0.0, (a * a - 2 * r * a * b + b * b) / (1 - r * r)));
}

}  // namespace coilbook::bench
