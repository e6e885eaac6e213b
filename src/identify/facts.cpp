#include "identify/facts.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>

namespace coilbook {
namespace {

// (x, y, ln of the drag law's error in the sink rate).
using Unknowns = Eigen::Vector3d;

// Residuals of all readings in their standard uncertainties: at most four straight ones, the drop's
// and the drag law's own.
struct Residuals {
    int count = 0;
    bool possible = true;
    Eigen::Matrix<double, 6, 1> value = Eigen::Matrix<double, 6, 1>::Zero();
    Eigen::Matrix<double, 6, 3> slope = Eigen::Matrix<double, 6, 3>::Zero();
};

Residuals residuals_at(const Unknowns& unknowns, const Evidence& evidence) {
    const LinePoint point = unknowns.head<2>();
    Residuals r;
    for (int i = 0; i < evidence.straight.rows; ++i, ++r.count) {
        r.value(r.count) = evidence.straight.a.row(i).dot(point) - evidence.straight.b(i);
        r.slope.row(r.count).head<2>() = evidence.straight.a.row(i);
    }
    if (!evidence.drop) return r;
    // In ln of the rate, with the drop's two errors apart: what was read, and the drag law.
    const auto& drop = *evidence.drop;
    const double lightest = drop.rates.ln_water_density();
    r.possible = is_conceivable(point) && point.y() > lightest;
    if (!r.possible) return r;
    const auto rate = drop.rates.at(point);
    const double reading_sd = std::max(drop.reading_sd(), 1e-6);
    r.value(r.count) = (drop.ln_rate - rate.value - unknowns.z()) / reading_sd;
    r.slope.row(r.count).head<2>() = -rate.slope / reading_sd;
    r.slope(r.count, 2) = -1.0 / reading_sd;
    ++r.count;
    r.value(r.count) = unknowns.z() / drop.drag_sd;
    r.slope(r.count, 2) = 1.0 / drop.drag_sd;
    ++r.count;
    return r;
}

// Least squares needs a hold on unknowns that no reading touches. It is a standard uncertainty of
// 1000 in the logarithm, which moves an unknown that a reading does touch by parts in 10^10.
const Unknowns start{std::log(8.0), std::log(2.5), 0.0};
const Eigen::Matrix3d hold = Eigen::Vector3d(1e-6, 1e-6, 1e-6).asDiagonal();
constexpr double heaviest_metal = 3.2;  // ln of about 25 g/cm3: no line is denser

struct Solution {
    Unknowns unknowns;
    Residuals residuals;
};

double misfit_at(const Unknowns& unknowns, const Residuals& residuals) {
    if (!residuals.possible) return HUGE_VAL;
    const Unknowns off = unknowns - start;
    return residuals.value.squaredNorm() + off.dot(hold * off);
}

Solution solve(const Evidence& evidence) {
    Solution best{start, residuals_at(start, evidence)};
    if (!evidence.drop) {  // straight: one step is the whole way
        const Eigen::Matrix<double, 4, 2>& a = evidence.straight.a;
        const Eigen::Matrix2d normal = a.transpose() * a + hold.topLeftCorner<2, 2>();
        const Eigen::Vector2d pull = a.transpose() * (evidence.straight.b - a * start.head<2>());
        best.unknowns.head<2>() += normal.inverse() * pull;
        if (best.unknowns.y() <= heaviest_metal) {
            best.residuals = residuals_at(best.unknowns, evidence);
            return best;
        }
        best.unknowns = start;
    }
    double misfit = misfit_at(start, best.residuals);
    for (int round = 0; round < 100; ++round) {
        const auto& slope = best.residuals.slope;
        const Eigen::Matrix3d normal = slope.transpose() * slope + hold;
        const Unknowns step = -normal.ldlt().solve(slope.transpose() * best.residuals.value +
                                                   hold * (best.unknowns - start));
        double length = 1.0;
        Solution next = best;
        double next_misfit = HUGE_VAL;
        for (; length > 1e-6 && !(next_misfit < misfit); length *= 0.5) {
            next.unknowns = best.unknowns + length * step;
            next.unknowns.y() = std::min(next.unknowns.y(), heaviest_metal);
            next.residuals = residuals_at(next.unknowns, evidence);
            next_misfit = misfit_at(next.unknowns, next.residuals);
        }
        if (!(next_misfit < misfit)) break;
        const double gain = misfit - next_misfit;
        best = next;
        misfit = next_misfit;
        if (gain < 1e-13) break;
    }
    return best;
}

// Turns a logarithm's standard uncertainty into a fact, if it is small enough to count.
template <class Q>
std::optional<Measured<Q>> fact(double ln_value, double variance, Q unit) {
    const double sd = std::sqrt(variance);
    if (!(sd < determined_below)) return std::nullopt;
    const Q value = std::exp(ln_value) * unit;
    return Measured<Q>{value, sd * value};
}

// The slope of the sink rate, in m/s. A nearly neutral line has none that is finite, or a steep
// one: there it is taken across the neutral point.
struct RateAt {
    double rate;
    Eigen::RowVector2d slope;
    double model_uncertainty;  // of the drag law, relative
};
RateAt rate_at(const LinePoint& point, const Water& water) {
    const double off_neutral = point.y() - std::log(water.density.in(gram_per_cubic_centimetre));
    if (std::abs(off_neutral) > 0.01) {
        const auto sinking = ln_sink_rate(point, water);
        const double rate = std::exp(sinking.value) * (sinking.rises ? -1.0 : 1.0);
        return {rate, rate * sinking.slope, sink_rate_model_uncertainty(sinking.reynolds)};
    }
    const auto signed_rate = [&](const LinePoint& at) {
        return sink(line_at(at), water).rate.si();
    };
    constexpr double step = 1e-5;
    const LinePoint dx{step, 0.0};
    const LinePoint dy{0.0, step};
    return {signed_rate(point),
            {(signed_rate(point + dx) - signed_rate(point - dx)) / (2.0 * step),
             (signed_rate(point + dy) - signed_rate(point - dy)) / (2.0 * step)},
            sink_rate_model_uncertainty(sink(line_at(point), water).reynolds)};
}

std::optional<Measured<Speed>> sink_fact(const RateAt& at, double drag_error,
                                         const Eigen::Matrix3d& covariance) {
    const double rate = at.rate * std::exp(drag_error);
    const Eigen::RowVector3d slope{at.slope(0), at.slope(1), rate};
    const double sd = std::sqrt((slope * covariance * slope.transpose()).value());
    // A nearly neutral line may have an uncertainty above its rate and still be known to be slow.
    const bool determined = sd < std::max(determined_below * std::abs(rate), 0.005);
    if (!determined) return std::nullopt;
    return Measured<Speed>{Speed::from_si(rate), Speed::from_si(sd)};
}

// How many directions of θ the readings tell: eigenvalues above 1 of a symmetric 2 x 2 matrix.
int directions_told(const Eigen::Matrix3d& information) {
    const double middle = 0.5 * (information(0, 0) + information(1, 1));
    const double off = std::hypot(0.5 * (information(0, 0) - information(1, 1)), information(0, 1));
    return int{middle + off > 1.0} + int{middle - off > 1.0};
}

}  // namespace

Fit fit_facts(const Evidence& evidence, const Water& fished_in) {
    Fit fit;
    const auto solution = solve(evidence);
    const auto& residuals = solution.residuals;
    fit.possible = residuals.possible;
    if (residuals.count == 0 || !residuals.possible) return fit;
    Eigen::Matrix3d information = residuals.slope.transpose() * residuals.slope;
    const int found = directions_told(information);
    fit.chi_square = residuals.value.squaredNorm();
    fit.surplus = residuals.count - found - (evidence.drop ? 1 : 0);

    const bool sinks_somehow = is_conceivable(solution.unknowns.head<2>());
    std::optional<RateAt> rate;
    if (sinks_somehow) rate = rate_at(solution.unknowns.head<2>(), fished_in);
    if (!evidence.drop && rate) {  // the drag law's error is known only by its size
        information(2, 2) += 1.0 / (rate->model_uncertainty * rate->model_uncertainty);
    }
    Eigen::Matrix3d covariance = (information + hold).inverse();
    // Whatever the surplus, less than 10 comes up by chance more than once in a thousand.
    if (fit.surplus > 0 && fit.chi_square > 10.0) {
        const boost::math::chi_squared by_chance(fit.surplus);
        const auto exceeding = boost::math::complement(by_chance, fit.chi_square);
        fit.contradictory = boost::math::cdf(exceeding) < contradiction_chance;
        if (fit.contradictory) covariance *= fit.chi_square / fit.surplus;
    }
    const LinePoint point = solution.unknowns.head<2>();
    const Eigen::Matrix2d c = covariance.topLeftCorner<2, 2>();
    const auto d = ln_diameter_row();
    fit.facts.linear_density = fact(point.x(), c(0, 0), grain_per_foot);
    fit.facts.density = fact(point.y(), c(1, 1), gram_per_cubic_centimetre);
    fit.facts.diameter =
        fact(d.dot(point) + ln_diameter_constant(), (d * c * d.transpose()).value(), millimetre);
    if (rate) fit.facts.sink_rate = sink_fact(*rate, solution.unknowns.z(), covariance);
    if (fit.facts.linear_density && fit.facts.density) {
        fit.facts.line = distribution_of({point, c});
    }
    return fit;
}

}  // namespace coilbook
