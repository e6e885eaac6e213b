// Where the numbers of a plot stand on the screen. For the files that draw one.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <span>
#include <vector>

#include "bench/widgets/pen.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench {

// What a plot is drawn with.
struct PlotLook {
    const Theme& theme;
    float scale = 1.0F;

    [[nodiscard]] float px(float at_one) const { return at_one * scale; }
    [[nodiscard]] Colour series(std::size_t at) const {
        return theme.series[at % theme.series.size()];
    }
};

// The inside of the axes on the screen, and what they cover.
struct PlotFrame {
    Rectangle inside;
    PlotWindow shown;

    [[nodiscard]] Place at(double x, double y) const {
        // Far outside is cut, so that no number is too large for a pixel.
        const auto bounded = [](double share) {
            return static_cast<float>(std::clamp(share, -20.0, 20.0));
        };
        return {inside.low.x + bounded(shown.x.share(x)) * inside.width(),
                inside.high.y - bounded(shown.y.share(y)) * inside.height()};
    }
    [[nodiscard]] PlotXy value_at(Place place) const {
        return {shown.x.value((place.x - inside.low.x) / inside.width()),
                shown.y.value((inside.high.y - place.y) / inside.height())};
    }
};

// Room for the axes in `box`, all that a plot may use; nothing where it is too small to be read.
// `legend_lines` of text stand below the axis, the first of them with its name; the labels of the
// upright axis are at most `label_width` wide.
[[nodiscard]] std::optional<PlotFrame> frame_in(const Rectangle& box, const PlotWindow& shown,
                                                const PlotLook& look, float line_height,
                                                int legend_lines, float label_width);

inline constexpr int ellipse_corners = 72;
using EllipseOutline = std::array<Place, ellipse_corners>;
// Clockwise on the screen.
[[nodiscard]] EllipseOutline outline_of(const PlotEllipse& ellipse, const PlotFrame& frame);
// What surrounds it.
[[nodiscard]] Rectangle box_round(std::span<const Place> outline);

// How many standard deviations (x, y) is away from the centre.
[[nodiscard]] double distance(const PlotEllipse& ellipse, PlotXy from);

}  // namespace coilbook::bench
