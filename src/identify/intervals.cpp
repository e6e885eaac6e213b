#include "identify/intervals.h"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "line/sink_rate.h"
#include "quantity/units.h"

namespace coilbook {
namespace {

constexpr double negligible = 1e-6;

double below(std::span<const NormalPart> parts, double at) {
    double sum = 0.0;
    for (const auto& part : parts) {
        sum += 0.5 * part.weight * std::erfc((part.mean - at) / (std::numbers::sqrt2 * part.sd));
    }
    return sum;
}

// What the timed drop says of the drag law's error δ, given θ: its reading is ln v(θ) + δ + the
// reading's own error, so δ is normal about gain · (reading − ln v(θ)) with this variance.
struct DragKnown {
    double ln_error = 0.0;  // at the part's mean
    double variance;
    Eigen::RowVector2d slope = Eigen::RowVector2d::Zero();  // of ln_error in θ
};

DragKnown drag_known(const Evidence& evidence, const LinePoint& point, double reynolds) {
    const double model = sink_rate_model_uncertainty(reynolds);
    DragKnown known{.variance = model * model};
    if (!evidence.drop) return known;
    const auto& drop = *evidence.drop;
    const double lightest = drop.rates.ln_water_density();
    if (point.y() <= lightest) return known;  // no drop explains itself by such a line
    const double model_variance = drop.drag_sd * drop.drag_sd;
    const double reading_variance = std::pow(drop.reading_sd(), 2);
    const double gain = model_variance / (model_variance + reading_variance);
    const auto rate = drop.rates.at(point);
    known.ln_error = gain * (drop.ln_rate - rate.value);
    known.slope = -gain * rate.slope;
    known.variance = gain * reading_variance;
    return known;
}

// The sink rate of one part, to first order in θ and in the drag law's error.
NormalPart sink_part(double weight, const Gaussian2& line, const Evidence& evidence,
                     const Water& fished_in) {
    const auto rate_at = [&](const LinePoint& point) {
        return sink(line_at(point), fished_in).rate.si();
    };
    constexpr double step = 1e-5;
    const LinePoint dx{step, 0.0};
    const LinePoint dy{0.0, step};
    const auto middle = sink(line_at(line.mean), fished_in);
    const auto drag = drag_known(evidence, line.mean, middle.reynolds);
    const double factor = std::exp(drag.ln_error);
    const double rate = middle.rate.si() * factor;
    const Eigen::RowVector2d by_line{
        (rate_at(line.mean + dx) - rate_at(line.mean - dx)) / (2.0 * step),
        (rate_at(line.mean + dy) - rate_at(line.mean - dy)) / (2.0 * step)};
    const Eigen::RowVector2d slope = factor * by_line + rate * drag.slope;
    const double variance =
        (slope * line.covariance * slope.transpose()).value() + rate * rate * drag.variance;
    return {weight, rate, std::sqrt(variance)};
}

template <class Q>
Interval<Q> interval(std::span<const NormalPart> parts, double probability, bool is_ln, Q unit) {
    const auto at = [&](double share) {
        const double quantile = mixture_quantile(parts, share);
        return (is_ln ? std::exp(quantile) : quantile) * unit;
    };
    const double outside = 0.5 * (1.0 - probability);
    return {at(outside), at(1.0 - outside)};
}

}  // namespace

double mixture_quantile(std::span<const NormalPart> parts, double probability) {
    assert(!parts.empty() && probability > 0.0 && probability < 1.0);
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    double narrowest = low;
    for (const auto& part : parts) {
        low = std::min(low, part.mean - 9.0 * part.sd);
        high = std::max(high, part.mean + 9.0 * part.sd);
        narrowest = std::min(narrowest, part.sd);
    }
    const auto off = [&](double at) { return below(parts, at) - probability; };
    // Beyond nine standard deviations of every part nothing is left, unless asked for by name.
    if (off(low) >= 0.0) return low;
    if (off(high) <= 0.0) return high;
    const auto is_close = [&](double a, double b) { return b - a <= 1e-6 * narrowest; };
    std::uintmax_t rounds = 200;
    const auto [a, b] = boost::math::tools::toms748_solve(off, low, high, is_close, rounds);
    return 0.5 * (a + b);
}

LineBelief line_belief(const Evidence& evidence, const ErrorShapes& shapes,
                       const Posterior& posterior, const Water& fished_in) {
    const auto probabilities = posterior.probabilities();
    double total = 0.0;
    for (const auto k : posterior.contenders()) {
        if (probabilities[k] >= negligible) total += probabilities[k];
    }
    LineBelief belief;
    for (const auto k : posterior.contenders()) {
        if (probabilities[k] < negligible) continue;
        const double weight = probabilities[k] / total;
        const auto line = posterior.line_of(k);
        const auto d = ln_diameter_row();
        add_shaped(belief.ln_grains_per_foot,
                   {weight, line.mean.x(), std::sqrt(line.covariance(0, 0))},
                   shapes.weight_per_length);
        add_shaped(belief.ln_diameter_mm,
                   {weight, d.dot(line.mean) + ln_diameter_constant(),
                    std::sqrt((d * line.covariance * d.transpose()).value())},
                   shapes.diameter);
        add_shaped(belief.ln_density_g_cm3,
                   {weight, line.mean.y(), std::sqrt(line.covariance(1, 1))}, shapes.density);
        belief.sink_rate_m_s.push_back(sink_part(weight, line, evidence, fished_in));
    }
    return belief;
}

LineIntervals central_intervals(const LineBelief& belief, double probability) {
    return {interval(belief.ln_grains_per_foot, probability, true, grain_per_foot),
            interval(belief.ln_diameter_mm, probability, true, millimetre),
            interval(belief.ln_density_g_cm3, probability, true, gram_per_cubic_centimetre),
            interval(belief.sink_rate_m_s, probability, false, metre_per_second)};
}

}  // namespace coilbook
