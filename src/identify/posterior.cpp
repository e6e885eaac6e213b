#include "identify/posterior.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "identify/gauss_hermite.h"

namespace coilbook {
namespace {

constexpr double never = -std::numeric_limits<double>::infinity();
const double ln_two_pi = std::log(2.0 * std::numbers::pi);

// Closed form: with r = b − A μ and S = (Σ⁻¹ + AᵀA)⁻¹, the mean becomes m = μ + S Aᵀ r and
// the integral N(b; A μ, I + A Σ Aᵀ), whose exponent is −½ r·(b − A m) and determinant |Σ| / |S|.
LineUpdate update_straight(const Gaussian2& prior, const StraightEvidence& straight) {
    if (straight.rows == 0) return {0.0, prior};
    const auto a = straight.a.topRows(straight.rows);
    const auto b = straight.b.head(straight.rows);
    const Eigen::Matrix2d precision = prior.covariance.inverse() + a.transpose() * a;
    Gaussian2 line;
    line.covariance = precision.inverse();
    const Eigen::Vector2d pull = a.transpose() * (b - a * prior.mean);
    line.mean = prior.mean + line.covariance * pull;
    const double misfit = (b - a * prior.mean).dot(b - a * line.mean);
    const double ln_ratio =
        std::log(prior.covariance.determinant() / line.covariance.determinant());
    return {straight.ln_norm - 0.5 * misfit - 0.5 * ln_ratio, line};
}

// −ln of N(θ; line) L(θ) up to constants, for the readings that bend; infinite where impossible.
double misfit_at(const LinePoint& point, const Gaussian2& line, const Eigen::Matrix2d& precision,
                 const BentResiduals& residuals) {
    if (!residuals.possible) return -never;
    const Eigen::Vector2d off = point - line.mean;
    return 0.5 * off.dot(precision * off) + 0.5 * residuals.value.squaredNorm();
}

// The peak of N(θ; line) L(θ) and the normal distribution that touches it there.
struct Peak {
    LinePoint point;
    Eigen::Matrix2d covariance;
};

// Gauss–Newton with halved steps; a dozen rounds bring smooth readings to rounding accuracy.
Peak find_peak(const Gaussian2& line, const Eigen::Matrix2d& precision, const Evidence& evidence) {
    LinePoint point = line.mean;
    if (evidence.drop) {  // a line that was seen to sink is denser than the water
        const double lightest =
            std::log(1.02 * evidence.drop->water.density.in(gram_per_cubic_centimetre));
        point.y() = std::max(point.y(), lightest);
    }
    auto residuals = evidence.bent_residuals(point);
    double misfit = misfit_at(point, line, precision, residuals);
    Eigen::Matrix2d covariance = line.covariance;
    for (int round = 0; round < 30; ++round) {
        covariance = (precision + residuals.slope.transpose() * residuals.slope).inverse();
        const Eigen::Vector2d step = -covariance * (precision * (point - line.mean) +
                                                    residuals.slope.transpose() * residuals.value);
        double length = 1.0;
        LinePoint next = point + step;
        auto next_residuals = evidence.bent_residuals(next);
        double next_misfit = misfit_at(next, line, precision, next_residuals);
        while (next_misfit > misfit && length > 1e-4) {
            length *= 0.5;
            next = point + length * step;
            next_residuals = evidence.bent_residuals(next);
            next_misfit = misfit_at(next, line, precision, next_residuals);
        }
        if (next_misfit > misfit) break;
        const double gain = misfit - next_misfit;
        point = next;
        residuals = next_residuals;
        misfit = next_misfit;
        if (gain < 1e-12) break;
    }
    return {point, covariance};
}

// ∫ N(θ; line) L_bent(θ) dθ by the rule laid on the peak: θ = peak + √2 C t, C Cᵀ = covariance.
LineUpdate integrate_bent(const Gaussian2& line, const Evidence& evidence) {
    const Eigen::Matrix2d precision = line.covariance.inverse();
    const auto peak = find_peak(line, precision, evidence);
    const Eigen::Matrix2d factor = peak.covariance.llt().matrixL();
    const auto& rule = GaussHermite<7>::rule();

    // Sums are kept relative to the misfit at the peak, so that nothing underflows.
    const double reference =
        misfit_at(peak.point, line, precision, evidence.bent_residuals(peak.point));
    if (!std::isfinite(reference)) return {never, line};
    double total = 0.0;
    Eigen::Vector2d first = Eigen::Vector2d::Zero();
    Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
    for (std::size_t i = 0; i < rule.nodes.size(); ++i) {
        for (std::size_t j = 0; j < rule.nodes.size(); ++j) {
            const Eigen::Vector2d t{rule.nodes[i], rule.nodes[j]};
            const Eigen::Vector2d off = std::numbers::sqrt2 * (factor * t);
            const LinePoint point = peak.point + off;
            const double misfit = misfit_at(point, line, precision, evidence.bent_residuals(point));
            const double value =
                rule.weights[i] * rule.weights[j] * std::exp(t.squaredNorm() + reference - misfit);
            total += value;
            first += value * off;
            second += value * off * off.transpose();
        }
    }
    if (!(total > 0.0) || !std::isfinite(total)) return {never, line};
    const Eigen::Vector2d mean_off = first / total;
    const Gaussian2 after{peak.point + mean_off, second / total - mean_off * mean_off.transpose()};
    const double ln_integral = std::log(2.0 * factor.determinant() * total) - reference -
                               ln_two_pi - 0.5 * std::log(line.covariance.determinant());
    return {ln_integral + evidence.bent_ln_norm(), after};
}

}  // namespace

LineUpdate update(const Gaussian2& prior, const Evidence& evidence) {
    const auto straight = update_straight(prior, evidence.straight);
    if (!evidence.bends()) return straight;
    const auto bent = integrate_bent(straight.line, evidence);
    return {straight.ln_likelihood + bent.ln_likelihood, bent.line};
}

double probability_lighter_than(const Gaussian2& line, const Water& water) {
    const double sd = std::sqrt(line.covariance(1, 1));
    const double at = std::log(water.density.in(gram_per_cubic_centimetre));
    return 0.5 * std::erfc((line.mean.y() - at) / (std::numbers::sqrt2 * sd));
}

double ln_length_density(Length length, const std::optional<UsualLengths>& usual) {
    const double any = 1.0 / std::log(150.0);
    const bool in_range = length >= foot && length <= 150.0 * foot;
    double density = in_range ? any : 1e-3 * any;
    if (usual) {
        double near_usual = 0.0;
        for (const Length each : usual->lengths) {
            const double off = std::log(length / each) / usual->relative_sd;
            near_usual += std::exp(-0.5 * off * off) /
                          (usual->relative_sd * std::sqrt(2.0 * std::numbers::pi));
        }
        near_usual /= static_cast<double>(usual->lengths.size());
        density = usual_length_share * near_usual + (1.0 - usual_length_share) * density;
    }
    return std::log(density);
}

double ln_soft_likelihood(const Evidence& evidence, const ReferenceClass& reference,
                          const Gaussian2& line) {
    double ln_likelihood = 0.0;
    if (evidence.tint) {
        ln_likelihood += std::log(reference.tints[static_cast<std::size_t>(*evidence.tint)]);
    }
    if (evidence.taper) {
        ln_likelihood += std::log(*evidence.taper == Taper::tapered ? reference.tapered
                                                                    : 1.0 - reference.tapered);
    }
    if (evidence.floats) {
        const double floating = probability_lighter_than(line, evidence.water);
        const double as_seen = *evidence.floats ? floating : 1.0 - floating;
        ln_likelihood += std::log(floating_misjudged + (1.0 - 2.0 * floating_misjudged) * as_seen);
    }
    if (evidence.whole_length) {
        ln_likelihood += ln_length_density(*evidence.whole_length, reference.usual);
    }
    return ln_likelihood;
}

double posterior(const Evidence& evidence, const ReferenceLibrary& library,
                 std::span<LineUpdate> updates, std::span<double> probabilities) {
    assert(updates.size() == library.size() && probabilities.size() == library.size());
    double highest = never;
    for (std::size_t k = 0; k < library.size(); ++k) {
        updates[k] = update(gaussian_of(library[k].line), evidence);
        probabilities[k] = std::log(library[k].weight) + updates[k].ln_likelihood +
                           ln_soft_likelihood(evidence, library[k], updates[k].line);
        highest = std::max(highest, probabilities[k]);
    }
    if (highest == never) {  // the readings exclude every line: it is none of the listed ones
        for (std::size_t k = 0; k < library.size(); ++k) {
            probabilities[k] = library[k].family == Family::unlisted ? 1.0 : 0.0;
        }
        return never;
    }
    double total = 0.0;
    double weights = 0.0;
    for (std::size_t k = 0; k < library.size(); ++k) {
        probabilities[k] = std::exp(probabilities[k] - highest);
        total += probabilities[k];
        weights += library[k].weight;
    }
    for (double& probability : probabilities) probability /= total;
    return highest + std::log(total / weights);
}

}  // namespace coilbook
