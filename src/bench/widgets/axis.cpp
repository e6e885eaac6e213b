#include "bench/widgets/axis.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <span>

#include "bench/widgets/even_axis.h"

namespace coilbook::bench {
namespace {

// Candidates within [low, high] at `steps` times powers of ten.
std::vector<double> at_steps(const Axis& axis, std::span<const double> steps) {
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

// Multiples of `step`.
std::vector<double> multiples(const Axis& axis, double step) {
    std::vector<double> values;
    for (double at = std::ceil(axis.low / step - 1e-9); at * step <= axis.high * (1.0 + 1e-9);
         at += 1.0) {
        if (at > 0.0) values.push_back(at * step);
    }
    return values;
}

// Sets of ticks for the axis, none with more than a few dozen.
std::vector<std::vector<double>> candidates(const Axis& axis) {
    constexpr double one[] = {1}, two[] = {1, 3}, three[] = {1, 2, 5}, four[] = {1, 2, 3, 5},
                     six[] = {1, 2, 3, 4, 6, 8}, eight[] = {1, 1.5, 2, 3, 4, 5, 6, 8};
    std::vector<std::vector<double>> sets{at_steps(axis, one),   at_steps(axis, two),
                                          at_steps(axis, three), at_steps(axis, four),
                                          at_steps(axis, six),   at_steps(axis, eight)};
    const double length = axis.high - axis.low;
    const int last = static_cast<int>(std::floor(std::log10(length)));
    for (int power = last - 2; power <= last; ++power) {
        for (const double step : {1.0, 2.0, 5.0}) {
            const double size = step * std::pow(10.0, power);
            if (length / size <= 40.0) sets.push_back(multiples(axis, size));
        }
    }
    return sets;
}

// The narrowest and the widest gap, as shares of the axis; one tick or none has none at all.
struct Gaps {
    double least = 0.0, most = 0.0;
};
Gaps gaps_of(const Axis& axis, const std::vector<double>& values) {
    if (values.size() < 2) return {};
    Gaps gaps{1e9, 0.0};
    for (std::size_t at = 1; at < values.size(); ++at) {
        const double gap = axis.share(values[at]) - axis.share(values[at - 1]);
        gaps.least = std::min(gaps.least, gap);
        gaps.most = std::max(gaps.most, gap);
    }
    return gaps;
}

}  // namespace

double Axis::along(double value) const {
    return spacing == Spacing::even ? value : std::log(value);
}

double Axis::back(double way) const {
    return spacing == Spacing::even ? way : std::exp(way);
}

double Axis::share(double value) const {
    if (spacing == Spacing::logarithmic && !(value > 0.0)) return -1e3;
    return (along(value) - along(low)) / length();
}

double Axis::value(double share) const {
    return back(along(low) + share * length());
}

std::vector<Tick> ticks(const Axis& axis, double least_gap) {
    if (axis.spacing == Spacing::even) {
        return even_ticks(axis, std::clamp(static_cast<int>(0.55 / least_gap), 2, 10));
    }
    assert(axis.low > 0.0 && axis.low < axis.high && "an axis needs two ends above zero");
    constexpr double uneven_from = 3.2;  // 1 to 2 beside 8 to 10 is 3.1
    std::vector<double> best;
    double evenness = 0.0;  // of the best
    for (const auto& values : candidates(axis)) {
        const Gaps gaps = gaps_of(axis, values);
        if (values.size() >= 2) {
            if (gaps.least < least_gap - 1e-12 || gaps.most > uneven_from * gaps.least) continue;
        }
        const double even = values.size() < 2 ? 0.0 : gaps.least / gaps.most;
        const bool is_better =
            values.size() > best.size() || (values.size() == best.size() && even > evenness + 1e-9);
        if (!is_better) continue;
        best = values;
        evenness = even;
    }
    std::vector<Tick> labelled;
    for (const double value : best) labelled.push_back({value, fmt::format("{:.6g}", value)});
    return labelled;
}

Axis axis_round(const std::vector<double>& values, double margin, double least_span) {
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
