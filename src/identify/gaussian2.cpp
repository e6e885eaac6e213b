#include "identify/gaussian2.h"

#include <cassert>
#include <cmath>
#include <numbers>

#include "quantity/units.h"

namespace coilbook {
namespace {

// (1 gr/ft) / (1 g/cm3) in mm², the area unit that the two logarithms imply.
const double area_unit_mm2 =
    (grain_per_foot / gram_per_cubic_centimetre).si() / (millimetre * millimetre).si();

}  // namespace

Gaussian2 gaussian_of(const LineDistribution& line) {
    const double sx = line.ln_grains_per_foot_sd;
    const double sy = line.ln_density_sd;
    const double sxy = line.correlation * sx * sy;
    Gaussian2 gaussian;
    gaussian.mean << line.ln_grains_per_foot_mean, line.ln_density_mean;
    gaussian.covariance << sx * sx, sxy, sxy, sy * sy;
    return gaussian;
}

LineDistribution distribution_of(const Gaussian2& gaussian) {
    const double sx = std::sqrt(gaussian.covariance(0, 0));
    const double sy = std::sqrt(gaussian.covariance(1, 1));
    return {gaussian.mean.x(), sx, gaussian.mean.y(), sy, gaussian.covariance(0, 1) / (sx * sy)};
}

bool is_conceivable(const LinePoint& point) {
    static const double densest = std::log(densest_conceivable.in(gram_per_cubic_centimetre));
    static const double heaviest = std::log(10'000.0);
    return std::abs(point.y()) < densest && std::abs(point.x()) < heaviest;
}

LineBody line_at(const LinePoint& point) {
    return line_of(std::exp(point.x()) * grain_per_foot,
                   std::exp(point.y()) * gram_per_cubic_centimetre);
}

LinePoint point_of(const LineBody& line) {
    return {std::log(line.weight_per_length.in(grain_per_foot)),
            std::log(density(line).in(gram_per_cubic_centimetre))};
}

Eigen::RowVector2d ln_diameter_row() {
    return {0.5, -0.5};
}

double ln_diameter_constant() {
    return 0.5 * std::log(4.0 / std::numbers::pi * area_unit_mm2);
}

// v = Re ν / d with Re a function of the Best number A alone, ln A = 3 ln d + ln|ρ/ρw − 1| + c.
// Then d ln Re / d ln A = 1 / (2 + s), s the slope of drag; and ln d has the slope (½, −½).
LnSinkRates::LnSinkRates(const Water& water)
    : water_density_(water.density.si()),
      ln_water_density_(std::log(water.density.in(gram_per_cubic_centimetre))),
      ln_nu_(std::log(kinematic_viscosity(water).si())) {
    static const double ln_half_pi_g = std::log(std::numbers::pi / 2.0 * standard_gravity.si());
    ln_best_number_constant_ = ln_half_pi_g - 2.0 * ln_nu_;
    ln_diameter_constant_ = ln_diameter_constant();
    ln_mm_ = std::log(millimetre.si());
}

LnSinkRate LnSinkRates::at(const LinePoint& point) const {
    const Eigen::RowVector2d row = ln_diameter_row();
    const double ln_d = row.dot(point) + ln_diameter_constant_ + ln_mm_;
    const double rho = std::exp(point.y()) * gram_per_cubic_centimetre.si();
    const double excess = rho - water_density_;
    assert(excess != 0.0 && "a line as dense as the water has no logarithm of a sink rate");
    const double ln_best_number =
        ln_best_number_constant_ + 3.0 * ln_d + std::log(std::abs(excess) / water_density_);
    const auto reynolds = ln_reynolds_for(ln_best_number);
    const Eigen::RowVector2d ln_best_number_slope{1.5, -1.5 + rho / excess};
    return {reynolds.value + ln_nu_ - ln_d, reynolds.slope * ln_best_number_slope - row,
            excess < 0.0, reynolds};
}

LnSinkRate ln_sink_rate(const LinePoint& point, const Water& water) {
    return LnSinkRates(water).at(point);
}

}  // namespace coilbook
