// How fast a level piece of line sinks in still water, and how dense a line must be to sink so
// fast.
//
// A line at its final speed is held by drag against what gravity has left after buoyancy. For each
// length of it
//
//     (ρ − ρ_w) g π d²/4  =  ½ ρ_w C_D(Re) d v²,        Re = v d / ν.
//
// Put v = Re ν / d and divide by ½ ρ_w ν² / d:
//
//     C_D(Re) Re²  =  (π/2) g d³ (ρ/ρ_w − 1) / ν².
//
// The right side is one number, known beforehand (the weather people's Best number, for hailstones
// and the like), and the left side grows with Re: so each line has one Reynolds number in each
// water, and one sink rate.
// Assumes what drag.h assumes. Leaves out: current, tension, taper, and the first centimetre of the
// fall (a 1 mm line of 2 g/cm3 is at 99 % of its final speed after 8 mm).
// Source: the balance of forces, with standard gravity and Cheng's drag law.
#pragma once

#include <optional>

#include "line/water.h"
#include "quantity/quantity.h"

namespace coilbook {

// All of a line that the water takes notice of. Both are above zero.
struct LineBody {
    LinearDensity weight_per_length;  // its mass, weighed in air
    Length diameter;

    bool operator==(const LineBody&) const = default;
};

// Coating and core together: 4 λ / (π d²).
[[nodiscard]] Density density(const LineBody& line);

// The line that weighs so much a length and is so dense. REQUIRES: both above zero.
[[nodiscard]] LineBody line_of(LinearDensity weight_per_length, Density density);

struct Sinking {
    Speed rate;               // positive downwards; a line lighter than the water rises: negative
    double reynolds;          // of its motion, up or down; never negative
    double drag_coefficient;  // infinite if the line hangs still: drag over a speed of zero
};

// The still-water sink rate of a level piece of line. REQUIRES: diameter and weight above zero.
// The balance of forces holds to about 1e-14; how well the balance holds for real lines is
// sink_rate_model_uncertainty().
[[nodiscard]] Sinking sink(const LineBody& line, const Water& water);

// Relative standard uncertainty of a sink rate due to the drag law alone; 2 to 7 %.
// If C_D is wrong by a small factor e^δ, the balance ln C_D + 2 ln Re = constant moves ln v by
// −δ / (2 + s), with s = d ln C_D / d ln Re: less than half of δ where drag grows with Re, up to
// 0.8 δ in creeping flow. Two other laws in common use give rates that differ from these by 3 to 8
// % for most lines, less than two of these standard uncertainties, and as they fit the measurements
// worse, that is the size to expect; so the choice of law is in it and not to be added again.
// At reynolds = 0 (a neutral line) it is the limit for very slow lines.
[[nodiscard]] double sink_rate_model_uncertainty(double reynolds);

// The density of a line of a given weight a length that sinks at a given rate. At one weight the
// denser line is the thinner, and always the faster: there is one answer, or none if not even
// densest_conceivable would do. A rate of zero gives the water's own density.
// REQUIRES: rate >= 0, weight_per_length > 0. sink() gives the rate back to within 1e-10.
[[nodiscard]] std::optional<Density> density_that_sinks_at(Speed rate,
                                                           LinearDensity weight_per_length,
                                                           const Water& water);

// Above all that exists (osmium, the densest metal: 22.6 g/cm3, from memory).
inline constexpr Density densest_conceivable = Density::from_si(25'000.0);

// C_D Re² of a line in a water, regardless of whether it sinks or rises: see above.
[[nodiscard]] double best_number(const LineBody& line, const Water& water);

// The Reynolds number at which C_D(Re) Re² is best_number; 0 for 0. Relative error below 1e-13.
// REQUIRES: best_number >= 0 and finite. Allocates nothing; takes less than a microsecond, because
// identification asks thousands of times a coil.
[[nodiscard]] double reynolds_for(double best_number);

// The same in logarithms from a table, for identification, which asks hundreds of times a coil: ln
// Re at ln(best number), and its slope. Within 1e-8 of reynolds_for for best numbers from e^-20 to
// e^40 (Re from 1e-7 to 1e8); beyond, that itself. The slope is the table's own, so that it is
// exactly the derivative of what is given.
struct LnReynolds {
    double value;
    double slope;
};
[[nodiscard]] LnReynolds ln_reynolds_for(double ln_best_number);

// The same as above, where the slope is known, and with it that of drag.
[[nodiscard]] double sink_rate_model_uncertainty(const LnReynolds& at);

}  // namespace coilbook
