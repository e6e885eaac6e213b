#include "bench/widgets/plot_window.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace coilbook::bench {
namespace {

double length(const LogAxis& axis) {
    return std::log(axis.high / axis.low);
}

// The axis that begins at ln `low` and is `length` long, pushed into `whole`.
LogAxis within(double low, double length_wanted, const LogAxis& whole) {
    const double most = length(whole);
    if (length_wanted >= most) return whole;
    const double first = std::log(whole.low), last = std::log(whole.high);
    low = std::clamp(low, first, last - length_wanted);
    return {std::exp(low), std::exp(low + length_wanted)};
}

LogAxis zoomed(const LogAxis& shown, const LogAxis& whole, double share, double factor) {
    const double before = length(shown);
    const double after = std::clamp(before / factor, closest_share * length(whole), length(whole));
    const double fixed = std::log(shown.low) + share * before;
    return within(fixed - share * after, after, whole);
}

LogAxis moved(const LogAxis& shown, const LogAxis& whole, double by) {
    return within(std::log(shown.low) + by * length(shown), length(shown), whole);
}

LogAxis centred(const LogAxis& shown, const LogAxis& whole, double value) {
    return within(std::log(value) - length(shown) / 2, length(shown), whole);
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
    const auto is_outside = [](const LogAxis& part, const LogAxis& all) {
        return part.low >= all.high || part.high <= all.low;
    };
    if (is_outside(shown.x, whole.x) || is_outside(shown.y, whole.y)) return std::nullopt;
    const bool is_closer = length(shown.x) < length(whole.x) * (1.0 - 1e-6) ||
                           length(shown.y) < length(whole.y) * (1.0 - 1e-6);
    if (!is_closer) return std::nullopt;
    return shown;
}

}  // namespace coilbook::bench
