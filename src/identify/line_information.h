// What the readings of one coil say about its line, boiled down to numbers that add up.
//
// Up to a factor, the likelihood of the readings is exp(−½ θᵀ Λ θ + hᵀ θ) over θ = (ln weight per
// foot, ln density): Λ is its `precision`, h its `pull`. Unlike a mean and a covariance this form
// exists for readings that leave something open (a weight without a diameter has a singular Λ), and
// independent readings of one line simply add. Learning (learning.h) and grouping (same_line.h)
// stand on it.
// Straight readings are exact here, with their rectangles taken as bells; a timed drop, which
// bends, is straightened where it fits best. Leaves out: tint, taper, floating and lengths, which
// speak about classes; errors that several coils share, such as a scale's (they are taken as each
// coil's own).
#pragma once

#include <Eigen/Core>

#include "identify/evidence.h"
#include "identify/gaussian2.h"

namespace coilbook {

struct LineInformation {
    Eigen::Matrix2d precision = Eigen::Matrix2d::Zero();  // symmetric, positive semidefinite
    Eigen::Vector2d pull = Eigen::Vector2d::Zero();       // in the range of `precision`

    // Nothing is known at all.
    [[nodiscard]] bool is_empty() const { return precision.isZero(0.0); }
    LineInformation& operator+=(const LineInformation& other);
};

[[nodiscard]] LineInformation information_of(const Evidence& evidence);
// A line that is known with this mean and covariance. REQUIRES: the covariance can be inverted.
[[nodiscard]] LineInformation information_of(const Gaussian2& known);

// The same as up to two independent readings z = B θ + unit normal noise.
struct UnitReadings {
    int rows = 0;
    Eigen::Matrix2d b = Eigen::Matrix2d::Zero();
    Eigen::Vector2d z = Eigen::Vector2d::Zero();
};
[[nodiscard]] UnitReadings unit_readings(const LineInformation& line);

// How far the readings are from what a normal distribution of lines foretells: the squared distance
// in standard deviations of reading and line together, over as many directions as were read.
struct Misfit {
    double squared = 0.0;
    int directions = 0;      // 0, 1 or 2
    double ln_shrink = 0.0;  // ln of how much narrower the readings are than what was foretold
};
[[nodiscard]] Misfit misfit(const LineInformation& line, const Gaussian2& foretold);

// ln ∫ N(θ; prior) L(θ) dθ, up to a constant of the readings alone, so differences count:
// −½ misfit − ln_shrink.
[[nodiscard]] double ln_marginal(const LineInformation& line, const Gaussian2& prior);

}  // namespace coilbook
