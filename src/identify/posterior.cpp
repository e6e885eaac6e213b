#include "identify/posterior.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "identify/bell_row.h"
#include "identify/gauss_hermite.h"

namespace coilbook {
namespace {

constexpr double never = -std::numeric_limits<double>::infinity();
// exp(−46) is 1e-20: what is further below the best does not count.
constexpr double out_of_the_race = 46.0;

double highest_of(const std::vector<double>& numbers) {
    return Eigen::Map<const Eigen::ArrayXd>(numbers.data(), std::ssize(numbers)).maxCoeff();
}

// One bell upon one normal, in closed form: with d = b − R μ and V = I + R Σ Rᵀ the integral is
// exp(−½ d·V⁻¹d) / √|V|, and θ has the mean μ + K d and covariance Σ − K R Σ, K = Σ Rᵀ V⁻¹.
class BellUpdate {
  public:
    BellUpdate(const Gaussian2& prior, const Eigen::Matrix2d& r)
        : prior_(prior), r_(r), rs_(r * prior.covariance) {
        const Eigen::Matrix2d v = Eigen::Matrix2d::Identity() + rs_ * r.transpose();
        inverse_ = v.inverse();
        determinant_ = v.determinant();
        gain_ = rs_.transpose() * inverse_;
        covariance_ = prior.covariance - gain_ * rs_;
    }
    [[nodiscard]] double ln_likelihood(const Bell& bell) const {
        const Eigen::Vector2d d = bell.b - r_ * prior_.mean;
        return bell.ln_share - 0.5 * d.dot(inverse_ * d) - 0.5 * std::log(determinant_);
    }
    [[nodiscard]] LinePoint mean(const Bell& bell) const {
        return prior_.mean + gain_ * (bell.b - r_ * prior_.mean);
    }
    [[nodiscard]] const Eigen::Matrix2d& covariance() const { return covariance_; }

  private:
    const Gaussian2& prior_;
    const Eigen::Matrix2d& r_;
    Eigen::Matrix2d rs_, inverse_, gain_, covariance_;
    double determinant_;
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
    const double lightest = std::log(1.02) + evidence.drop->rates.ln_water_density();
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
// The rule is exact for a drop that does not bend; its N x N nodes are for the bending.
template <int N>
LineUpdate integrate_drop_by(const Gaussian2& line, const Evidence& evidence) {
    const Eigen::Matrix2d precision = line.covariance.inverse();
    const auto peak = find_peak(line, precision, evidence);
    if (!std::isfinite(peak.misfit)) return {never, line};
    const Eigen::Matrix2d factor = peak.covariance.llt().matrixL();
    const auto& rule = GaussHermite<N>::rule();

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

// Over a line so well known the drop hardly bends: five nodes each way give what seven do, to 2e-6
// of a probability on sixty coils with everything read on kitchen instruments. A coarse instrument
// makes hundreds of such lines, one for each of its bells.
constexpr double well_known = 0.02;  // in ln of weight per length and of density

LineUpdate integrate_drop(const Gaussian2& line, const Evidence& evidence) {
    return std::sqrt(line.covariance.trace()) < well_known ? integrate_drop_by<5>(line, evidence)
                                                           : integrate_drop_by<7>(line, evidence);
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

double length_density(Length length, const std::optional<UsualLengths>& usual) {
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
    return density;
}

Posterior::Posterior(const PreparedLibrary& library)
    : library_(library),
      ln_likelihood_(library.components().size()),
      determinant_(library.components().size()),
      after_drop_(library.components().size()),
      length_density_(library.length_groups().size()),
      probabilities_(library.size()) {
    contenders_.reserve(library.size());
}

void Posterior::weigh_one_bell() {
    const auto& c = library_.components();
    const auto& r = evidence_->bells.r;
    const auto& bell = evidence_->bells.one;
    weigh({r(0, 0), r(0, 1), r(1, 1), bell.b(0), bell.b(1), bell.ln_share},
          {c.mean_x, c.mean_y, c.var_x, c.cov_xy, c.var_y, c.ln_share}, ln_likelihood_,
          determinant_);
    // The determinants take something from each, and from the best so far no more than this; so
    // whoever is out of the race by then is. A drop, which comes yet, needs more of a margin: they
    // take at most e^30.
    const double highest = highest_of(ln_likelihood_);
    const auto best = static_cast<std::size_t>(std::ranges::find(ln_likelihood_, highest) -
                                               ln_likelihood_.begin());
    const double still_in = evidence_->drop
                                ? highest - 2.0 * out_of_the_race
                                : highest - 0.5 * std::log(determinant_[best]) - out_of_the_race;
    for (std::size_t i = 0; i < ln_likelihood_.size(); ++i) {
        if (ln_likelihood_[i] < still_in) {
            ln_likelihood_[i] = never;
        } else {
            ln_likelihood_[i] -= 0.5 * std::log(determinant_[i]);
        }
    }
}

// Component by component, all bells at once; first only by each one's best bell, which is enough
// for most to be out of the race.
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
    const auto& r = evidence_->bells.r;
    const auto& c = library_.components();
    // Leaves ln of the share and likelihood of each bell, the determinant apart, which it gives.
    const auto weigh_bells = [&](std::size_t i) {
        const auto prior = c.gaussian(i);
        const Eigen::Vector2d at = r * prior.mean;
        const Eigen::Matrix2d v =
            Eigen::Matrix2d::Identity() + r * prior.covariance * r.transpose();
        const Eigen::Matrix2d w = -0.5 * v.inverse();
        ln_each = bell_ln_share_.head(count) + w(0, 0) * (b0 - at(0)).square() +
                  (w(0, 1) + w(1, 0)) * (b0 - at(0)) * (b1 - at(1)) +
                  w(1, 1) * (b1 - at(1)).square();
        return v.determinant();
    };
    for (std::size_t i = 0; i < c.size(); ++i) {
        determinant_[i] = weigh_bells(i);
        ln_likelihood_[i] = c.ln_share[i] - 0.5 * std::log(determinant_[i]) + ln_each.maxCoeff();
    }
    // All bells may be as good as the best. A drop, which comes yet, needs more of a margin.
    const double still_in = highest_of(ln_likelihood_) - std::log(static_cast<double>(count)) -
                            (evidence_->drop ? 2.0 : 1.0) * out_of_the_race;
    for (std::size_t i = 0; i < c.size(); ++i) {
        if (ln_likelihood_[i] < still_in) {
            ln_likelihood_[i] = never;
            continue;
        }
        weigh_bells(i);
        const double best = ln_each.maxCoeff();
        const double ln_rest = c.ln_share[i] - 0.5 * std::log(determinant_[i]);
        ln_likelihood_[i] = ln_rest + best + std::log((ln_each - best).exp().sum());
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
    const bool is_one_normal = library_.first_component(k) + 1 == library_.first_component(k + 1);
    if (is_one_normal && !evidence_->drop && evidence_->bells.many.empty()) {
        const auto prior = c.gaussian(library_.first_component(k));
        const BellUpdate updated(prior, evidence_->bells.r);
        return {updated.mean(evidence_->bells.one), updated.covariance()};
    }
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

// P(tint, taper, floating, whole length | class, the measured readings); of the length, a density.
double Posterior::soft_likelihood(std::size_t k) const {
    double likelihood = 1.0;
    if (evidence_->tint) {
        likelihood *= library_[k].tints[static_cast<std::size_t>(*evidence_->tint)];
    }
    if (evidence_->taper) {
        const double tapered = library_[k].tapered;
        likelihood *= *evidence_->taper == Taper::tapered ? tapered : 1.0 - tapered;
    }
    if (evidence_->floats) {
        const double floating = probability_lighter_than(line_of(k), evidence_->water);
        const double as_seen = *evidence_->floats ? floating : 1.0 - floating;
        likelihood *= floating_misjudged + (1.0 - 2.0 * floating_misjudged) * as_seen;
    }
    if (evidence_->whole_length) likelihood *= length_density_[library_.length_group(k)];
    return likelihood;
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
        for (std::size_t group = 0; group < length_density_.size(); ++group) {
            length_density_[group] =
                length_density(*evidence.whole_length, library_.length_groups()[group]);
        }
    }
    contenders_.clear();
    std::ranges::fill(probabilities_, 0.0);
    const double highest = highest_of(ln_likelihood_);
    if (highest == never) {  // the readings exclude every line: it is none of the listed ones
        if (library_.unlisted() < library_.size()) {
            probabilities_[library_.unlisted()] = 1.0;
            contenders_.push_back(library_.unlisted());
        }
        return never;
    }
    const auto& owner = library_.components().owner;
    for (std::size_t i = 0; i < ln_likelihood_.size(); ++i) {
        if (ln_likelihood_[i] < highest - out_of_the_race) continue;
        const std::size_t k = owner[i];
        if (contenders_.empty() || contenders_.back() != k) contenders_.push_back(k);
        probabilities_[k] += std::exp(ln_likelihood_[i] - highest);
    }
    double total = 0.0;
    std::erase_if(contenders_, [&](std::size_t k) {
        probabilities_[k] *= soft_likelihood(k);
        total += probabilities_[k];
        return probabilities_[k] == 0.0;
    });
    for (const auto k : contenders_) probabilities_[k] /= total;
    return highest + std::log(total);
}

}  // namespace coilbook
