// What the readings alone imply about a line, without the reference library.
//
// The best line by least squares over all readings, each weighed by its uncertainty, with the drag
// law's error as a third unknown, since it is the same in a drop that was timed and in the sink
// rate that is then foretold from it. Uncertainties are first order (GUM 5.2), correlations kept.
#pragma once

#include "identify/evidence.h"
#include "identify/verdict.h"

namespace coilbook {

// A fact counts as determined when its logarithm has a standard uncertainty below this.
inline constexpr double determined_below = 0.7;

struct Fit {
    Facts facts;
    // Sum of squared residuals, each in its standard uncertainty, and how many readings there are
    // beyond those that the unknowns needed. Consistent readings make chi_square about surplus.
    double chi_square = 0.0;
    int surplus = 0;
};

// The facts, with the sink rate in `fished_in`. All are empty where there are no measured readings.
[[nodiscard]] Fit fit_facts(const Evidence& evidence, const Water& fished_in);

}  // namespace coilbook
