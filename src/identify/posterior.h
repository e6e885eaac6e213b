// How probable each class of the library is, given the evidence: the heart of identification.
//
// For class k with its normal distribution over θ = (ln weight per foot, ln density),
//
//     P(k | readings)  ∝  weight_k · P(soft readings | k) · ∫ N(θ; k) L(readings | θ) dθ.
//
// The straight part of L makes the integral a closed form; readings that bend are integrated over
// what the straight ones leave, by a 7 x 7 Gauss–Hermite rule laid around the peak (adaptive, as in
// Liu and Pierce, Biometrika 81 (1994) 624). Nothing here allocates.
#pragma once

#include <span>

#include "identify/evidence.h"
#include "identify/gaussian2.h"

namespace coilbook {

// What the evidence makes of one normal distribution over θ.
struct LineUpdate {
    double ln_likelihood;  // ln ∫ N(θ) L(θ) dθ; minus infinity where no such line is possible
    Gaussian2 line;        // mean and covariance of θ after the readings
};

// `prior` after the measured readings of `evidence` (not tint, taper, floating, whole length).
[[nodiscard]] LineUpdate update(const Gaussian2& prior, const Evidence& evidence);

// ln P(tint, taper, floating, whole length | class), where `line` is what the measured readings
// have made of the class. Floating is judged by density, with a misjudgement in a hundred, since a
// dense thin line can hang in the surface. A whole length is one of the usual ones in half of the
// cases, and otherwise anything from 1 to 150 ft on a logarithmic scale (own assumption).
[[nodiscard]] double ln_soft_likelihood(const Evidence& evidence, const ReferenceClass& reference,
                                        const Gaussian2& line);

inline constexpr double floating_misjudged = 0.01;
inline constexpr double usual_length_share = 0.5;

// ln of the density of ln(whole length) under a class, as just described.
[[nodiscard]] double ln_length_density(Length length, const std::optional<UsualLengths>& usual);

// P(y < ln ρ_w): how probable it is that a line floats in `water`.
[[nodiscard]] double probability_lighter_than(const Gaussian2& line, const Water& water);

// The posterior of every class. `updates` and `probabilities` have one entry for each class of
// `library`, in its order; both are overwritten. Gives ln of the total likelihood of the readings.
// The probabilities sum to 1 within 1e-12. Readings that exclude every line at all (a drop timed on
// what cannot sink) leave `unlisted`, and minus infinity.
double posterior(const Evidence& evidence, const ReferenceLibrary& library,
                 std::span<LineUpdate> updates, std::span<double> probabilities);

}  // namespace coilbook
