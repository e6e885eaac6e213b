// Where the marks of a logarithmic axis stand and what is written beside them. Pure numbers.
#pragma once

#include <string>
#include <vector>

namespace coilbook::bench {

// A stretch of a logarithmic axis. REQUIRES: 0 < low < high, both finite.
struct LogAxis {
    double low = 1.0, high = 10.0;

    // 0 at `low`, 1 at `high`, by the logarithm; outside of 0 to 1 for values beyond the ends.
    // A value that is not above 0 lies far outside on the low side.
    [[nodiscard]] double share(double value) const;
    // The inverse of share.
    [[nodiscard]] double value(double share) const;
};

struct Tick {
    double value = 0;
    std::string label;
    bool operator==(const Tick&) const = default;
};

// Ticks from `low` to `high` at 1, 2 and 5 times powers of ten; over less than a decade also at 3,
// 4, 6 and 8, over less than a third of one in even steps. At most one for every `least_gap` of the
// axis' length (0 to 1), keeping the first of those that crowd.
[[nodiscard]] std::vector<Tick> ticks(const LogAxis& axis, double least_gap = 0.06);

// The smallest axis that begins a little below the least and ends a little above the greatest of
// `values` (those above 0), by a factor of at least `margin`; at least `least_span` from end to
// end as a ratio. Without any value: 1 to `least_span`.
[[nodiscard]] LogAxis axis_round(const std::vector<double>& values, double margin = 1.15,
                                 double least_span = 2.0);

}  // namespace coilbook::bench
