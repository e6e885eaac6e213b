#include "bench/widgets/even_axis.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace coilbook::bench {

std::vector<Tick> even_ticks(const Axis& axis, int wanted) {
    assert(axis.low < axis.high && wanted > 0 && "an axis needs two ends");
    const double rough = (axis.high - axis.low) / wanted;
    const double power = std::floor(std::log10(rough));
    const double share = rough / std::pow(10.0, power);
    const double factor = share < 1.5 ? 1.0 : share < 3.5 ? 2.0 : share < 7.5 ? 5.0 : 10.0;
    const double step = factor * std::pow(10.0, power);
    const int decimals = std::max(0, -static_cast<int>(power) - (factor == 10.0 ? 1 : 0));
    std::vector<Tick> all;
    const double slack = 1e-9;  // an end that is a tick by intention is one
    for (double at = std::ceil(axis.low / step - slack); at <= axis.high / step + slack; at += 1) {
        const double value = at == 0.0 ? 0.0 : at * step;  // never "-0"
        all.push_back({value, fmt::format("{:.{}f}", value, decimals)});
    }
    return all;
}

Axis even_axis_round(const std::vector<double>& values) {
    double low = 0.0, high = 0.0;
    bool is_first = true;
    for (const double value : values) {
        if (!std::isfinite(value)) continue;
        low = is_first ? value : std::min(low, value);
        high = is_first ? value : std::max(high, value);
        is_first = false;
    }
    if (is_first) return {0.0, 1.0, Spacing::even};
    if (high > low) {
        const double free = 0.1 * (high - low);
        return {low - free, high + free, Spacing::even};
    }
    const double around = low == 0.0 ? 0.5 : 0.5 * std::abs(low);
    return {low - around, high + around, Spacing::even};
}

}  // namespace coilbook::bench
