// Normal distributions over a line's two unknowns, ln weight per foot and ln density.
//
// Logarithms, because lines of one kind differ by so many per cent, and because diameter, the third
// figure, is then straight in the other two: ln d = ½ (ln(4/π) + ln λ − ln ρ).
#pragma once

#include <Eigen/Core>

#include "catalog/reference_class.h"
#include "line/sink_rate.h"

namespace coilbook {

// θ = (x, y), x = ln(weight per length / (1 gr/ft)), y = ln(density / (1 g/cm3)).
using LinePoint = Eigen::Vector2d;

struct Gaussian2 {
    LinePoint mean;
    Eigen::Matrix2d covariance;  // symmetric, positive definite
};

[[nodiscard]] Gaussian2 gaussian_of(const LineDistribution& line);
[[nodiscard]] LineDistribution distribution_of(const Gaussian2& gaussian);

// Whether a line with these two can be reckoned with at all: up to 25 g/cm3 and 10000 gr/ft, and as
// far below water and T lines. Odd readings can lead outside, where numbers lose their meaning.
[[nodiscard]] bool is_conceivable(const LinePoint& point);

// REQUIRES: is_conceivable(point).
[[nodiscard]] LineBody line_at(const LinePoint& point);
[[nodiscard]] LinePoint point_of(const LineBody& line);

// Row and constant of ln(diameter / (1 mm)) as a straight function of θ: row · θ + constant.
[[nodiscard]] Eigen::RowVector2d ln_diameter_row();
[[nodiscard]] double ln_diameter_constant();

// How the line at `point` moves in still water: ln of its speed (in m/s), the slope of that in θ,
// and whether it rises. The drag law is tabulated (ln_reynolds_for), good to 1e-8 of the speed.
// REQUIRES: is_conceivable(point); the line is not exactly as dense as the water.
struct LnSinkRate {
    double value;
    Eigen::RowVector2d slope;
    bool rises;
    LnReynolds reynolds;
};
[[nodiscard]] LnSinkRate ln_sink_rate(const LinePoint& point, const Water& water);

// The same for many lines in one water, whose part in it is reckoned once.
class LnSinkRates {
  public:
    explicit LnSinkRates(const Water& water);
    [[nodiscard]] LnSinkRate at(const LinePoint& point) const;
    // ln of its density over 1 g/cm3.
    [[nodiscard]] double ln_water_density() const { return ln_water_density_; }

  private:
    double water_density_, ln_water_density_, ln_nu_, ln_best_number_constant_,
        ln_diameter_constant_, ln_mm_;
};

}  // namespace coilbook
