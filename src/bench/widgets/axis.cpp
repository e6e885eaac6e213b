#include "bench/widgets/axis.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <span>

namespace coilbook::bench {
namespace {

// Candidates within [low, high] at `steps` times powers of ten.
std::vector<double> at_steps(const LogAxis& axis, std::span<const double> steps) {
    std::vector<double> values;
    const int first = static_cast<int>(std::floor(std::log10(axis.low)));
    const int last = static_cast<int>(std::ceil(std::log10(axis.high)));
    for (int power = first; power <= last; ++power) {
        for (const double step : steps) {
            const double value = step * std::pow(10.0, power);
            const double slack = value * 1e-9;  // an end that is a tick by intention is one
            if (value >= axis.low - slack && value <= axis.high + slack) values.push_back(value);
        }
    }
    return values;
}

// Even steps of 1, 2 or 5 times a power of ten, about five of them.
std::vector<double> evenly(const LogAxis& axis) {
    const double rough = (axis.high - axis.low) / 5.0;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    const double share = rough / power;
    const double step = power * (share < 1.5 ? 1.0 : share < 3.5 ? 2.0 : share < 7.5 ? 5.0 : 10.0);
    std::vector<double> values;
    for (double at = std::ceil(axis.low / step - 1e-9); at * step <= axis.high * (1.0 + 1e-9);
         at += 1.0) {
        values.push_back(at * step);
    }
    return values;
}

}  // namespace

double LogAxis::share(double value) const {
    if (!(value > 0.0)) return -1e3;
    return std::log(value / low) / std::log(high / low);
}

double LogAxis::value(double share) const {
    return low * std::pow(high / low, share);
}

std::vector<Tick> ticks(const LogAxis& axis, double least_gap) {
    assert(axis.low > 0.0 && axis.low < axis.high && "an axis needs two ends above zero");
    constexpr double wide[] = {1, 2, 5}, narrow[] = {1, 2, 3, 4, 5, 6, 8};
    const double decades = std::log10(axis.high / axis.low);
    const std::vector<double> values = decades < 1.0 / 3.0 ? evenly(axis)
                                       : decades < 1.0     ? at_steps(axis, narrow)
                                                           : at_steps(axis, wide);
    std::vector<Tick> kept;
    for (const double value : values) {
        if (!kept.empty() &&
            axis.share(value) - axis.share(kept.back().value) < least_gap - 1e-12) {
            continue;
        }
        kept.push_back({value, fmt::format("{:.6g}", value)});
    }
    return kept;
}

LogAxis axis_round(const std::vector<double>& values, double margin, double least_span) {
    double low = 0, high = 0;
    for (const double value : values) {
        if (!(value > 0.0) || !std::isfinite(value)) continue;
        if (low <= 0.0 || value < low) low = value;
        high = std::max(high, value);
    }
    if (low <= 0.0) return {1.0, least_span};
    low /= margin;
    high *= margin;
    const double missing = least_span / (high / low);
    if (missing > 1.0) {
        low /= std::sqrt(missing);
        high *= std::sqrt(missing);
    }
    return {low, high};
}

}  // namespace coilbook::bench
