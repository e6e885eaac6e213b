// Where the marks of an even axis stand and what is written beside them. Pure numbers.
#pragma once

#include <vector>

#include "bench/widgets/axis.h"

namespace coilbook::bench {

// Even ticks at 1, 2 or 5 times a power of ten, about `wanted` of them, zero among them where it is
// on the axis, all with as many decimals as their step needs.
[[nodiscard]] std::vector<Tick> even_ticks(const Axis& axis, int wanted = 5);

// The smallest even axis that holds all of `values` with a tenth of their spread free at both ends;
// where they are all alike, half of them (or of 1) on both sides. Without any value: 0 to 1.
[[nodiscard]] Axis even_axis_round(const std::vector<double>& values);

}  // namespace coilbook::bench
