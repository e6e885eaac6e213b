// What of a plot is shown, when somebody looks closer: zooming and moving, as plain numbers.
#pragma once

#include <optional>

#include "bench/widgets/axis.h"

namespace coilbook::bench {

// A part of both axes.
struct PlotWindow {
    Axis x, y;
    bool operator==(const PlotWindow&) const = default;
};

// How far one can go: a hundredth of the whole, along the axis.
inline constexpr double closest_share = 0.01;

// `shown` stretched along its axes by 1 / `factor` about the place at (share_x, share_y) of
// it, 0 to 1 from the lower left: with a factor above 1 one looks closer. What lies at that place
// stays there, but where that would lead outside of `whole`; never wider than that, nor closer than
// closest_share of it. REQUIRES: factor > 0.
[[nodiscard]] PlotWindow zoomed(const PlotWindow& shown, const PlotWindow& whole, double share_x,
                                double share_y, double factor);

// `shown` moved by so many of its own widths and heights, to the right and up, as far as `whole`
// goes.
[[nodiscard]] PlotWindow moved(const PlotWindow& shown, const PlotWindow& whole, double right,
                               double up);

// The same size as `shown` with (x, y) in its middle, as far as `whole` goes.
[[nodiscard]] PlotWindow centred(const PlotWindow& shown, const PlotWindow& whole, double x,
                                 double y);

// `shown`, or, where it has no part of `whole` or nothing is closer, nothing: all is shown.
[[nodiscard]] std::optional<PlotWindow> unless_whole(const PlotWindow& shown,
                                                     const PlotWindow& whole);

}  // namespace coilbook::bench
