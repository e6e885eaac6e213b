// A line's distribution as a map of weight per foot against diameter shows it.
#pragma once

#include "identify/gaussian2.h"

namespace coilbook {

// Over (ln(diameter / (1 mm)), ln(weight per length / (1 gr/ft))): a straight map M of (ln weight,
// ln density), so its covariance is M Σ Mᵀ.
[[nodiscard]] Gaussian2 over_diameter_and_weight(const LineDistribution& line);

}  // namespace coilbook
