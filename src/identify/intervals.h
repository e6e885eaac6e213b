// Within what bounds a coil's weight per foot, diameter, density and sink rate lie, by everything
// that is believed about it: its readings and the reference library.
//
// The posterior of a quantity is a mixture, one part a class, weighted by the class's probability.
// ln of weight per foot, density and diameter are straight in θ, so a part has the mean and spread
// that the readings made of the class. It is normal, unless an instrument's limit of error or a
// coarse step rules (error_shape.h). The sink rate bends:
// it is taken to first order at the part's mean, with the drag law's uncertainty in it. Where a
// drop was timed, part of the drag law's error is known from it and is carried over to the water
// fished in, as in facts.h. Assumes that parts are narrow enough for that: fine with a diameter or
// a weighing under water; rough for a coil whose density is known by its class alone. A Student
// class is taken as the normal distribution that posterior() gives for it. The drag law's error is
// one factor for all rates of a coil. This is not the interval of facts.h, which leaves the library
// out.
#pragma once

#include <span>
#include <vector>

#include "identify/error_shape.h"
#include "identify/posterior.h"

namespace coilbook {

// Where the mixture's distribution function is `probability`, to a millionth of the narrowest sd.
// REQUIRES: at least one part, weights above zero that sum to 1; 0 < probability < 1.
[[nodiscard]] double mixture_quantile(std::span<const NormalPart> parts, double probability);

// The four posteriors. Classes below a probability of 1e-6 are left out.
struct LineBelief {
    std::vector<NormalPart> ln_grains_per_foot;
    std::vector<NormalPart> ln_diameter_mm;
    std::vector<NormalPart> ln_density_g_cm3;
    std::vector<NormalPart> sink_rate_m_s;  // still, level; positive downwards
};

// `posterior` has taken up `evidence`; `shapes` are those of the same readings.
[[nodiscard]] LineBelief line_belief(const Evidence& evidence, const ErrorShapes& shapes,
                                     const Posterior& posterior, const Water& fished_in);

template <class Q>
struct Interval {
    Q low;
    Q high;  // not below low

    [[nodiscard]] bool holds(Q value) const { return low <= value && value <= high; }
};

struct LineIntervals {
    Interval<LinearDensity> weight_per_length;
    Interval<Length> diameter;
    Interval<Density> density;
    Interval<Speed> sink_rate;
};

// The central intervals that hold each quantity with `probability`: as much is left below as above.
// REQUIRES: 0 < probability < 1.
[[nodiscard]] LineIntervals central_intervals(const LineBelief& belief, double probability);

}  // namespace coilbook
