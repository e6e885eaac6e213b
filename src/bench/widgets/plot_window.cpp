#include "bench/widgets/plot_window.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace coilbook::bench {
namespace {

// The axis that begins `first` along `whole` and is `length` long, pushed into it.
Axis within(double first, double length, const Axis& whole) {
    if (length >= whole.length()) return whole;
    first = std::clamp(first, whole.along(whole.low), whole.along(whole.high) - length);
    return {whole.back(first), whole.back(first + length), whole.spacing};
}

Axis zoomed(const Axis& shown, const Axis& whole, double share, double factor) {
    const double before = shown.length();
    const double after =
        std::clamp(before / factor, closest_share * whole.length(), whole.length());
    const double fixed = shown.along(shown.low) + share * before;
    return within(fixed - share * after, after, whole);
}

Axis moved(const Axis& shown, const Axis& whole, double by) {
    return within(shown.along(shown.low) + by * shown.length(), shown.length(), whole);
}

Axis centred(const Axis& shown, const Axis& whole, double value) {
    return within(shown.along(value) - shown.length() / 2, shown.length(), whole);
}

}  // namespace

PlotWindow zoomed(const PlotWindow& shown, const PlotWindow& whole, double share_x, double share_y,
                  double factor) {
    assert(factor > 0.0);
    return {zoomed(shown.x, whole.x, share_x, factor), zoomed(shown.y, whole.y, share_y, factor)};
}

PlotWindow moved(const PlotWindow& shown, const PlotWindow& whole, double right, double up) {
    return {moved(shown.x, whole.x, right), moved(shown.y, whole.y, up)};
}

PlotWindow centred(const PlotWindow& shown, const PlotWindow& whole, double x, double y) {
    return {centred(shown.x, whole.x, x), centred(shown.y, whole.y, y)};
}

std::optional<PlotWindow> unless_whole(const PlotWindow& shown, const PlotWindow& whole) {
    const auto is_outside = [](const Axis& part, const Axis& all) {
        return part.low >= all.high || part.high <= all.low;
    };
    if (is_outside(shown.x, whole.x) || is_outside(shown.y, whole.y)) return std::nullopt;
    const bool is_closer = shown.x.length() < whole.x.length() * (1.0 - 1e-6) ||
                           shown.y.length() < whole.y.length() * (1.0 - 1e-6);
    if (!is_closer) return std::nullopt;
    return shown;
}

}  // namespace coilbook::bench
