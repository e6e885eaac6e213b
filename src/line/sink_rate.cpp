#include "line/sink_rate.h"

#include <algorithm>
#include <array>
#include <boost/math/tools/toms748_solve.hpp>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

#include "line/drag.h"
#include "quantity/units.h"

namespace coilbook {

using std::numbers::pi;

Density density(const LineBody& line) {
    assert(line.diameter > Length{});
    return line.weight_per_length / (pi / 4.0 * (line.diameter * line.diameter));
}

LineBody line_of(LinearDensity weight_per_length, Density density) {
    assert(weight_per_length > LinearDensity{} && density > Density{});
    const Area section = weight_per_length / density;
    return {.weight_per_length = weight_per_length,
            .diameter = std::sqrt(4.0 / pi * section.si()) * metre};
}

double best_number(const LineBody& line, const Water& water) {
    const KinematicViscosity nu = kinematic_viscosity(water);
    const Length d = line.diameter;
    const double excess = density(line) / water.density - 1.0;
    return pi / 2.0 * (standard_gravity * d * d * d / (nu * nu)) * std::abs(excess);
}

// Newton's method on f(x) = ln C_D + 2x − ln(best number) with x = ln Re. Its slope 2 + s lies
// between 1.25 and 2.17 everywhere, so that each step leaves at most 2.17/1.25 − 1 = 0.74 of the
// error, wherever it starts; near the end a step squares the error.
double reynolds_for(double best_number) {
    assert(best_number >= 0.0 && std::isfinite(best_number));
    if (best_number == 0.0) return 0.0;
    // C_D is close to 11 Re^-0.75 if slow and to 1 if fast; each alone would let it go faster.
    const double logarithm = std::log(best_number);
    double x = std::min((logarithm - std::log(11.0)) / 1.25, logarithm / 2.0);
    double step = 0.0;
    do {
        const Drag drag = cylinder_drag(std::exp(x));
        step = (std::log(drag.coefficient) + 2.0 * x - logarithm) / (2.0 + drag.slope);
        x -= step;
    } while (std::abs(step) > 1e-8);
    return std::exp(x);
}

namespace {

// Cubic Hermite pieces between the values and slopes at evenly spaced points.
constexpr double table_from = -20.0;
constexpr double table_step = 0.05;
constexpr std::size_t table_pieces = 1200;

LnReynolds exact_ln_reynolds(double ln_best_number) {
    const double reynolds = reynolds_for(std::exp(ln_best_number));
    return {std::log(reynolds), 1.0 / (2.0 + cylinder_drag(reynolds).slope)};
}

}  // namespace

LnReynolds ln_reynolds_for(double ln_best_number) {
    static const auto table = [] {
        std::array<LnReynolds, table_pieces + 1> points{};
        for (std::size_t i = 0; i <= table_pieces; ++i) {
            points[i] = exact_ln_reynolds(table_from + table_step * static_cast<double>(i));
        }
        return points;
    }();
    const double place = (ln_best_number - table_from) / table_step;
    if (!(place >= 0.0 && place < static_cast<double>(table_pieces))) {
        return exact_ln_reynolds(ln_best_number);
    }
    const auto piece = static_cast<std::size_t>(place);
    const double t = place - static_cast<double>(piece);
    const auto& left = table[piece];
    const auto& right = table[piece + 1];
    const double rise = right.value - left.value;
    const double bend_left = left.slope * table_step - rise;
    const double bend_right = rise - right.slope * table_step;
    const double u = 1.0 - t;
    // Lerp plus t u (bend_left u + bend_right t), and its derivative.
    return {left.value + t * rise + t * u * (bend_left * u + bend_right * t),
            (rise + (u - t) * (bend_left * u + bend_right * t) + t * u * (bend_right - bend_left)) /
                table_step};
}

Sinking sink(const LineBody& line, const Water& water) {
    const double reynolds = reynolds_for(best_number(line, water));
    if (reynolds == 0.0) {
        return {.rate = Speed{},
                .reynolds = 0.0,
                .drag_coefficient = std::numeric_limits<double>::infinity()};
    }
    const Speed rate = reynolds * (kinematic_viscosity(water) / line.diameter);
    return {.rate = density(line) > water.density ? rate : -rate,
            .reynolds = reynolds,
            .drag_coefficient = cylinder_drag(reynolds).coefficient};
}

double sink_rate_model_uncertainty(double reynolds) {
    constexpr double slope_of_very_slow_lines = -0.75;
    const double slope = reynolds > 0.0 ? cylinder_drag(reynolds).slope : slope_of_very_slow_lines;
    return drag_relative_uncertainty(reynolds) / (2.0 + slope);
}

double sink_rate_model_uncertainty(const LnReynolds& at) {
    return drag_relative_uncertainty(std::exp(at.value)) * at.slope;
}

// The unknown is the diameter. What pulls a length down, λ g − ρ_w g π d²/4, falls as d grows, and
// the drag ½ ρ_w C_D d v² grows (C_D falls no faster than d^-0.75), so they meet once or never:
// between the diameter of the densest line and that of a neutral one, where only drag is left.
std::optional<Density> density_that_sinks_at(Speed rate, LinearDensity weight_per_length,
                                             const Water& water) {
    assert(rate >= Speed{} && weight_per_length > LinearDensity{});
    if (rate == Speed{}) return water.density;
    const KinematicViscosity nu = kinematic_viscosity(water);
    // Pull less drag, in units of the line's weight.
    const auto net_pull = [&](double diameter) {
        const Length d = diameter * metre;
        const double buoyancy = pi / 4.0 * (water.density * d * d / weight_per_length);
        const double drag_coefficient = cylinder_drag(rate * d / nu).coefficient;
        const double drag =
            0.5 * drag_coefficient *
            (water.density * d * rate * rate / (weight_per_length * standard_gravity));
        return 1.0 - buoyancy - drag;
    };
    const double thinnest = line_of(weight_per_length, densest_conceivable).diameter.si();
    const double neutral = line_of(weight_per_length, water.density).diameter.si();
    const double pull_on_thinnest = net_pull(thinnest);
    const double pull_on_neutral = net_pull(neutral);
    if (pull_on_thinnest < 0.0) return std::nullopt;
    if (pull_on_neutral >= 0.0) return water.density;  // a rate lost in rounding

    std::uintmax_t steps = 100;
    const auto [low, high] = boost::math::tools::toms748_solve(
        net_pull, thinnest, neutral, pull_on_thinnest, pull_on_neutral,
        boost::math::tools::eps_tolerance<double>(50), steps);
    return density({weight_per_length, (low + high) / 2.0 * metre});
}

}  // namespace coilbook
