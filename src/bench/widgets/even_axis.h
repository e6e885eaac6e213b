// Where the marks of a linear axis stand and what is written beside them. Pure numbers.
#pragma once

#include <vector>

#include "bench/widgets/axis.h"

namespace coilbook::bench {

// A stretch of a linear axis. REQUIRES: low < high, both finite.
struct LinearAxis {
    double low = 0.0, high = 1.0;

    // 0 at `low`, 1 at `high`; outside of 0 to 1 for values beyond the ends.
    [[nodiscard]] double share(double value) const { return (value - low) / (high - low); }
};

// Even ticks at 1, 2 or 5 times a power of ten, about `wanted` of them, zero among them where it is
// on the axis, all with as many decimals as their step needs.
[[nodiscard]] std::vector<Tick> ticks(const LinearAxis& axis, int wanted = 5);

// The smallest axis that holds all of `values` with a tenth of their spread free at both ends;
// where they are all alike, half of them (or of 1) on both sides. Without any value: 0 to 1.
[[nodiscard]] LinearAxis linear_axis_round(const std::vector<double>& values);

}  // namespace coilbook::bench
