// Where the marks of an axis stand and what is written beside them. Pure numbers.
#pragma once

#include <string>
#include <vector>

namespace coilbook::bench {

enum class Spacing { logarithmic, even };

// A stretch of an axis. REQUIRES: low < high, both finite; 0 < low on a logarithmic one.
struct Axis {
    double low = 1.0, high = 10.0;
    Spacing spacing = Spacing::logarithmic;

    // How far along the axis a value is: itself, or its logarithm; and back.
    [[nodiscard]] double along(double value) const;
    [[nodiscard]] double back(double way) const;
    [[nodiscard]] double length() const { return along(high) - along(low); }
    // 0 at `low`, 1 at `high`; outside of 0 to 1 for values beyond the ends. On a logarithmic axis
    // a value that is not above 0 lies far outside on the low side.
    [[nodiscard]] double share(double value) const;
    // The inverse of share.
    [[nodiscard]] double value(double share) const;

    bool operator==(const Axis&) const = default;
};

struct Tick {
    double value = 0;
    std::string label;
    bool operator==(const Tick&) const = default;
};

// Round values from `low` to `high`, no two nearer to one another than `least_gap` of the axis'
// length (0 to 1), as many of them as there is room for, and about evenly spread: the widest gap is
// at most some three times the narrowest, as it is from 1 to 2 beside 8 to 10.
// On an even axis they are even_ticks (even_axis.h), for labels of some numbers' width. On a
// logarithmic one they are one of a few sets, never one with a gap where a value was left out: 1,
// 3, 10; 1, 2, 5; 1, 2, 3, 5; 1, 2, 3, 4, 6, 8; 1, 1.5, 2, 3, 4, 5, 6, 8, each times powers of ten;
// or even steps of 1, 2 or 5 times a power of ten, which look even where the axis is short. At
// least two, unless the axis is too short for that.
[[nodiscard]] std::vector<Tick> ticks(const Axis& axis, double least_gap = 0.06);

// The smallest logarithmic axis that begins a little below the least and ends a little above the
// greatest of `values` (those above 0), by a factor of at least `margin`; at least `least_span`
// from end to end as a ratio. Without any value: 1 to `least_span`.
[[nodiscard]] Axis axis_round(const std::vector<double>& values, double margin = 1.15,
                              double least_span = 2.0);

}  // namespace coilbook::bench
