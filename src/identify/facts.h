// What the readings alone imply about a line, without the reference library.
//
// The best line by least squares over all readings, each weighed by its uncertainty, with the drag
// law's error as a third unknown, since it is the same in a drop that was timed and in the sink
// rate that is then foretold from it. Uncertainties are first order (GUM 5.2), correlations kept.
#pragma once

#include "identify/evidence.h"
#include "identify/verdict.h"

namespace coilbook {

// Readings that disagree this badly by chance come up once in so many coils.
inline constexpr double contradiction_chance = 0.001;

// A fact counts as determined when its logarithm has a standard uncertainty below this.
inline constexpr double determined_below = 0.7;

struct Fit {
    Facts facts;
    // Sum of squared residuals, each in its standard uncertainty, and how many readings there are
    // beyond those that the unknowns needed. Consistent readings make chi_square about surplus.
    double chi_square = 0.0;
    int surplus = 0;
    // chi_square is above what comes up by chance: the readings contradict each other. Then all
    // uncertainties are widened by √(chi_square / surplus), Birge's ratio, since somebody is wrong
    // and nobody knows who (Birge, Phys. Rev. 40 (1932) 207).
    bool contradictory = false;
    bool possible = true;  // false: no line at all has these readings
};

// The facts, with the sink rate in `fished_in`. All are empty where there are no measured readings.
[[nodiscard]] Fit fit_facts(const Evidence& evidence, const Water& fished_in);

}  // namespace coilbook
