// Lines that are alike in one thing, from light to heavy: the curves that a map of weight per foot
// against diameter is read by.
//
// Of equal density they are straight on two logarithmic scales, ln d = ½ ln λ + a constant: twice
// the diameter weighs four times as much. Of equal sink rate they bend: at one weight the denser is
// the thinner and the faster, and drag falls with size, so that a heavier line may be less dense
// and still keep the rate.
#pragma once

#include <vector>

#include "line/sink_rate.h"

namespace coilbook {

// From where to where a curve is drawn, and by how many points, evenly in ln λ.
// REQUIRES: 0 < lightest < heaviest; points >= 2.
struct CurveSpan {
    LinearDensity lightest, heaviest;
    int points = 120;
};

// Lines of that density. REQUIRES: density > 0.
[[nodiscard]] std::vector<LineBody> lines_of_density(Density density, const CurveSpan& span);

// Lines that sink at that rate in still water; at a rate of 0 those as dense as the water. Weights
// at which not even densest_conceivable would do are left out, so the curve may be shorter, or
// empty. REQUIRES: rate >= 0.
// Accuracy: that of density_that_sinks_at().
[[nodiscard]] std::vector<LineBody> lines_sinking_at(Speed rate, const Water& water,
                                                     const CurveSpan& span);

}  // namespace coilbook
