#include "identify/posterior.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "identify/gauss_hermite.h"

namespace coilbook {
namespace {

constexpr double never = -std::numeric_limits<double>::infinity();
// exp(−46) is 1e-20: what is further below the best does not count.
constexpr double out_of_the_race = 46.0;

// One bell upon one normal, in closed form: with d = b − R μ and V = I + R Σ Rᵀ the integral is
// exp(−½ d·V⁻¹d) / √|V|, and θ has the mean μ + K d and covariance Σ − K R Σ, K = Σ Rᵀ V⁻¹.
class BellUpdate {
  public:
    BellUpdate(const Gaussian2& prior, const Eigen::Matrix2d& r)
        : prior_(prior), r_(r), rs_(r * prior.covariance) {
        const Eigen::Matrix2d v = Eigen::Matrix2d::Identity() + rs_ * r.transpose();
        inverse_ = v.inverse();
        half_ln_determinant_ = 0.5 * std::log(v.determinant());
        gain_ = rs_.transpose() * inverse_;
        covariance_ = prior.covariance - gain_ * rs_;
    }
    [[nodiscard]] double ln_likelihood(const Bell& bell) const {
        const Eigen::Vector2d d = bell.b - r_ * prior_.mean;
        return bell.ln_share - 0.5 * d.dot(inverse_ * d) - half_ln_determinant_;
    }
    [[nodiscard]] LinePoint mean(const Bell& bell) const {
        return prior_.mean + gain_ * (bell.b - r_ * prior_.mean);
    }
    [[nodiscard]] const Eigen::Matrix2d& covariance() const { return covariance_; }

  private:
    const Gaussian2& prior_;
    const Eigen::Matrix2d& r_;
    Eigen::Matrix2d rs_, inverse_, gain_, covariance_;
    double half_ln_determinant_;
};

// A sum of normals, gathered one by one, by its weight, mean and covariance. Weights are kept
// relative to the first ones' size, so that nothing underflows.
class Mixture {
  public:
    void add(double ln_weight, const LinePoint& mean, const Eigen::Matrix2d& covariance) {
        if (ln_weight == never) return;
        if (ln_weight > reference_) {
            const double shrink = reference_ == never ? 0.0 : std::exp(reference_ - ln_weight);
            weight_ *= shrink;
            first_ *= shrink;
            second_ *= shrink;
            if (reference_ == never) origin_ = mean;
            reference_ = ln_weight;
        }
        const double weight = std::exp(ln_weight - reference_);
        const LinePoint off = mean - origin_;
        weight_ += weight;
        first_ += weight * off;
        second_ += weight * (covariance + off * off.transpose());
    }
    [[nodiscard]] double ln_weight() const {
        return reference_ == never ? never : reference_ + std::log(weight_);
    }
    // REQUIRES: something was added.
    [[nodiscard]] Gaussian2 gaussian() const {
        const LinePoint off = first_ / weight_;
        return {origin_ + off, second_ / weight_ - off * off.transpose()};
    }

  private:
    double reference_ = never;
    double weight_ = 0.0;
    LinePoint origin_ = LinePoint::Zero();
    LinePoint first_ = LinePoint::Zero();
    Eigen::Matrix2d second_ = Eigen::Matrix2d::Zero();
};

// −ln of N(θ; line) L_drop(θ) up to constants; infinite where impossible.
double misfit_at(const LinePoint& point, const Gaussian2& line, const Eigen::Matrix2d& precision,
                 const DropResidual& residual) {
    if (!residual.possible) return -never;
    const Eigen::Vector2d off = point - line.mean;
    return 0.5 * off.dot(precision * off) + 0.5 * residual.value * residual.value -
           residual.ln_norm;
}

// The peak of N(θ; line) L(θ) and the normal distribution that touches it there.
struct Peak {
    LinePoint point;
    Eigen::Matrix2d covariance;
    double misfit;
};

// Gauss–Newton with halved steps; a few rounds bring a smooth reading to rounding accuracy.
Peak find_peak(const Gaussian2& line, const Eigen::Matrix2d& precision, const Evidence& evidence) {
    LinePoint point = line.mean;
    // A line that was seen to sink is denser than the water.
    const double lightest =
        std::log(1.02 * evidence.drop->water.density.in(gram_per_cubic_centimetre));
    point.y() = std::max(point.y(), lightest);
    auto residual = evidence.drop_residual(point);
    double misfit = misfit_at(point, line, precision, residual);
    Eigen::Matrix2d covariance = line.covariance;
    for (int round = 0; round < 30; ++round) {
        covariance = (precision + residual.slope.transpose() * residual.slope).inverse();
        const Eigen::Vector2d step = -covariance * (precision * (point - line.mean) +
                                                    residual.slope.transpose() * residual.value);
        double length = 1.0;
        LinePoint next = point + step;
        auto next_residual = evidence.drop_residual(next);
        double next_misfit = misfit_at(next, line, precision, next_residual);
        while (next_misfit > misfit && length > 1e-4) {
            length *= 0.5;
            next = point + length * step;
            next_residual = evidence.drop_residual(next);
            next_misfit = misfit_at(next, line, precision, next_residual);
        }
        if (next_misfit > misfit) break;
        const double gain = misfit - next_misfit;
        point = next;
        residual = next_residual;
        misfit = next_misfit;
        if (gain < 1e-8) break;
    }
    return {point, covariance, misfit};
}

// ∫ N(θ; line) L_drop(θ) dθ by the rule laid on the peak: θ = peak + √2 C t, C Cᵀ = covariance.
LineUpdate integrate_drop(const Gaussian2& line, const Evidence& evidence) {
    const Eigen::Matrix2d precision = line.covariance.inverse();
    const auto peak = find_peak(line, precision, evidence);
    if (!std::isfinite(peak.misfit)) return {never, line};
    const Eigen::Matrix2d factor = peak.covariance.llt().matrixL();
    const auto& rule = GaussHermite<7>::rule();

    double total = 0.0;  // relative to the peak
    Eigen::Vector2d first = Eigen::Vector2d::Zero();
    Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
    for (std::size_t i = 0; i < rule.nodes.size(); ++i) {
        for (std::size_t j = 0; j < rule.nodes.size(); ++j) {
            const Eigen::Vector2d t{rule.nodes[i], rule.nodes[j]};
            const Eigen::Vector2d off = std::numbers::sqrt2 * (factor * t);
            const LinePoint point = peak.point + off;
            const double misfit = misfit_at(point, line, precision, evidence.drop_residual(point));
            const double value = rule.weights[i] * rule.weights[j] *
                                 std::exp(t.squaredNorm() + peak.misfit - misfit);
            total += value;
            first += value * off;
            second += value * off * off.transpose();
        }
    }
    if (!(total > 0.0) || !std::isfinite(total)) return {never, line};
    const Eigen::Vector2d mean_off = first / total;
    const Gaussian2 after{peak.point + mean_off, second / total - mean_off * mean_off.transpose()};
    const double ln_integral = std::log(factor.determinant() / std::numbers::pi * total) -
                               peak.misfit - 0.5 * std::log(line.covariance.determinant());
    return {ln_integral, after};
}

// All bells upon one normal, and the drop on each of them if there is one. Bells far below the best
// are left out.
void add_update(Mixture& mixture, double ln_share, const Gaussian2& prior,
                const Evidence& evidence) {
    const BellUpdate bell_update(prior, evidence.bells.r);
    const auto bells = evidence.bells.all();
    double highest = never;
    for (const auto& bell : bells) highest = std::max(highest, bell_update.ln_likelihood(bell));
    for (const auto& bell : bells) {
        const double ln_bell = bell_update.ln_likelihood(bell);
        if (ln_bell < highest - out_of_the_race) continue;
        const Gaussian2 line{bell_update.mean(bell), bell_update.covariance()};
        if (!evidence.drop) {
            mixture.add(ln_share + ln_bell, line.mean, line.covariance);
        } else {
            const auto dropped = integrate_drop(line, evidence);
            mixture.add(ln_share + ln_bell + dropped.ln_likelihood, dropped.line.mean,
                        dropped.line.covariance);
        }
    }
}

}  // namespace

LineUpdate update(const Gaussian2& prior, const Evidence& evidence) {
    Mixture mixture;
    add_update(mixture, 0.0, prior, evidence);
    if (mixture.ln_weight() == never) return {never, prior};
    return {mixture.ln_weight(), mixture.gaussian()};
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

Posterior::Posterior(const PreparedLibrary& library)
    : library_(library),
      ln_likelihood_(library.components().size()),
      determinant_(library.components().size()),
      after_drop_(library.components().size()),
      ln_length_(library.length_groups().size()),
      probabilities_(library.size()) {
    contenders_.reserve(library.size());
}

// The closed form written out, so that the machine does several components at a time.
void Posterior::weigh_one_bell() {
    const auto& c = library_.components();
    const auto& r = evidence_->bells.r;
    const double r00 = r(0, 0);
    const double r01 = r(0, 1);
    const double r11 = r(1, 1);
    const auto& bell = evidence_->bells.one;
    const double b0 = bell.b(0);
    const double b1 = bell.b(1);
    const std::size_t count = c.size();
    const double* mean_x = c.mean_x.data();
    const double* mean_y = c.mean_y.data();
    const double* var_x = c.var_x.data();
    const double* cov_xy = c.cov_xy.data();
    const double* var_y = c.var_y.data();
    const double* ln_share = c.ln_share.data();
    double* ln_likelihood = ln_likelihood_.data();
    double* determinant = determinant_.data();
    for (std::size_t i = 0; i < count; ++i) {
        const double d0 = b0 - r00 * mean_x[i] - r01 * mean_y[i];
        const double d1 = b1 - r11 * mean_y[i];
        const double v11 = 1.0 + r11 * r11 * var_y[i];
        const double v01 = r11 * (r00 * cov_xy[i] + r01 * var_y[i]);
        const double v00 =
            1.0 + r00 * r00 * var_x[i] + 2.0 * r00 * r01 * cov_xy[i] + r01 * r01 * var_y[i];
        const double det = v00 * v11 - v01 * v01;
        const double q = (v11 * d0 * d0 - 2.0 * v01 * d0 * d1 + v00 * d1 * d1) / det;
        determinant[i] = det;
        ln_likelihood[i] = ln_share[i] + bell.ln_share - 0.5 * q;
    }
    double highest = never;
    for (std::size_t i = 0; i < count; ++i) highest = std::max(highest, ln_likelihood[i]);
    // Twice the margin, since the determinants may yet take e^30 from the best, and not from
    // another.
    for (std::size_t i = 0; i < count; ++i) {
        if (ln_likelihood[i] < highest - 2.0 * out_of_the_race) {
            ln_likelihood[i] = never;
        } else {
            ln_likelihood[i] -= 0.5 * std::log(determinant[i]);
        }
    }
}

// Component by component, all bells at once.
void Posterior::weigh_many_bells() {
    const auto bells = evidence_->bells.all();
    const auto count = static_cast<Eigen::Index>(bells.size());
    if (bell_b0_.size() < count) {
        for (auto* each : {&bell_b0_, &bell_b1_, &bell_ln_share_, &bell_misfit_}) {
            each->resize(count);
        }
    }
    for (Eigen::Index j = 0; j < count; ++j) {
        const auto& bell = bells[static_cast<std::size_t>(j)];
        bell_b0_(j) = bell.b(0);
        bell_b1_(j) = bell.b(1);
        bell_ln_share_(j) = bell.ln_share;
    }
    const auto b0 = bell_b0_.head(count);
    const auto b1 = bell_b1_.head(count);
    auto ln_each = bell_misfit_.head(count);
    const auto& c = library_.components();
    double highest = never;
    for (std::size_t i = 0; i < c.size(); ++i) {
        const auto prior = c.gaussian(i);
        const Eigen::Vector2d at = evidence_->bells.r * prior.mean;
        const Eigen::Matrix2d v = Eigen::Matrix2d::Identity() + evidence_->bells.r *
                                                                    prior.covariance *
                                                                    evidence_->bells.r.transpose();
        const Eigen::Matrix2d w = -0.5 * v.inverse();
        ln_each = bell_ln_share_.head(count) + w(0, 0) * (b0 - at(0)).square() +
                  (w(0, 1) + w(1, 0)) * (b0 - at(0)) * (b1 - at(1)) +
                  w(1, 1) * (b1 - at(1)).square();
        const double best = ln_each.maxCoeff();
        const double ln_rest = c.ln_share[i] - 0.5 * std::log(v.determinant());
        // Even if all bells were as good as the best.
        if (best + ln_rest + std::log(static_cast<double>(count)) <
            highest - 2.0 * out_of_the_race) {
            ln_likelihood_[i] = never;
            continue;
        }
        ln_likelihood_[i] = ln_rest + best + std::log((ln_each - best).exp().sum());
        highest = std::max(highest, ln_likelihood_[i]);
    }
}

// The drop's likelihood is at most its factor where the watch alone errs, so whoever is out of the
// race even with that is not weighed. The best so far goes first.
void Posterior::weigh_drop() {
    const auto& c = library_.components();
    const double most = -std::log(evidence_->drop->time_sd);
    double highest = never;
    const auto weigh = [&](std::size_t i) {
        if (ln_likelihood_[i] == never || ln_likelihood_[i] + most < highest - out_of_the_race) {
            ln_likelihood_[i] = never;
            return;
        }
        const auto updated = update(c.gaussian(i), *evidence_);
        ln_likelihood_[i] = c.ln_share[i] + updated.ln_likelihood;
        after_drop_[i] = updated.line;
        highest = std::max(highest, ln_likelihood_[i]);
    };
    const auto first =
        static_cast<std::size_t>(std::ranges::max_element(ln_likelihood_) - ln_likelihood_.begin());
    weigh(first);
    for (std::size_t i = 0; i < c.size(); ++i) {
        if (i != first) weigh(i);
    }
}

Gaussian2 Posterior::line_of(std::size_t k) const {
    const auto& c = library_.components();
    Mixture mixture;
    for (std::size_t i = library_.first_component(k); i < library_.first_component(k + 1); ++i) {
        if (evidence_->drop) {
            mixture.add(ln_likelihood_[i], after_drop_[i].mean, after_drop_[i].covariance);
        } else {
            add_update(mixture, c.ln_share[i], c.gaussian(i), *evidence_);
        }
    }
    if (mixture.ln_weight() == never) return gaussian_of(library_[k].line);
    return mixture.gaussian();
}

// ln P(tint, taper, floating, whole length | class, the measured readings).
double Posterior::ln_soft_likelihood(std::size_t k) const {
    double ln_likelihood = 0.0;
    if (evidence_->tint) ln_likelihood += library_.ln_tint(k, *evidence_->tint);
    if (evidence_->taper) {
        const double tapered = library_[k].tapered;
        ln_likelihood += std::log(*evidence_->taper == Taper::tapered ? tapered : 1.0 - tapered);
    }
    if (evidence_->floats) {
        const double floating = probability_lighter_than(line_of(k), evidence_->water);
        const double as_seen = *evidence_->floats ? floating : 1.0 - floating;
        ln_likelihood += std::log(floating_misjudged + (1.0 - 2.0 * floating_misjudged) * as_seen);
    }
    if (evidence_->whole_length) ln_likelihood += ln_length_[library_.length_group(k)];
    return ln_likelihood;
}

double Posterior::take_up(const Evidence& evidence) {
    evidence_ = &evidence;
    if (evidence.bells.many.empty()) {
        weigh_one_bell();
    } else {
        weigh_many_bells();
    }
    if (evidence.drop) weigh_drop();
    if (evidence.whole_length) {
        for (std::size_t group = 0; group < ln_length_.size(); ++group) {
            ln_length_[group] =
                ln_length_density(*evidence.whole_length, library_.length_groups()[group]);
        }
    }
    contenders_.clear();
    std::ranges::fill(probabilities_, 0.0);
    const double highest = *std::ranges::max_element(ln_likelihood_);
    if (highest == never) {  // the readings exclude every line: it is none of the listed ones
        if (library_.unlisted() < library_.size()) {
            probabilities_[library_.unlisted()] = 1.0;
            contenders_.push_back(library_.unlisted());
        }
        return never;
    }
    double total = 0.0;
    for (std::size_t k = 0; k < library_.size(); ++k) {
        double measured = 0.0;
        for (auto i = library_.first_component(k); i < library_.first_component(k + 1); ++i) {
            if (ln_likelihood_[i] < highest - out_of_the_race) continue;
            measured += std::exp(ln_likelihood_[i] - highest);
        }
        if (measured == 0.0) continue;
        probabilities_[k] = measured * std::exp(ln_soft_likelihood(k));
        if (probabilities_[k] == 0.0) continue;
        contenders_.push_back(k);
        total += probabilities_[k];
    }
    for (const auto k : contenders_) probabilities_[k] /= total;
    return highest + std::log(total);
}

}  // namespace coilbook
