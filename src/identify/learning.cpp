#include "identify/learning.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <cassert>
#include <cmath>
#include <numbers>

#include "identify/same_line.h"

namespace coilbook {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr double nu0 = coils_behind_built_in_spread;

// What is made of one coil while the class's spread is being found; all relative to the prior mean.
struct CoilShare {
    Matrix2d about_mean;  // precision that it adds to the mean: (Σ + R)⁻¹, R its reading errors
    Vector2d pull;        // and the pull
    Matrix2d scatter;     // expected (θi − μ)(θi − μ)ᵀ
};

// What the coils say about the class at the fixed point.
struct Fit {
    Vector2d mean;  // relative to the prior mean
    Matrix2d mean_precision;
    Matrix2d mean_covariance;
    Matrix2d within;  // the inverse of the expected inverse covariance, Ψ/ν
    Matrix2d seen;    // sum of the coils' precisions about the mean
    std::vector<CoilShare> coils;
};

// The likelihoods of the coils relative to the prior mean, ready to be summed.
std::vector<LineInformation> relative_to(const LinePoint& mean,
                                         const std::vector<ConfirmedCoil>& coils) {
    std::vector<LineInformation> lines;
    for (const auto& coil : coils) {
        lines.push_back({coil.line.precision, coil.line.pull - coil.line.precision * mean});
    }
    return lines;
}

// One round: the mean and all lines given the spread `within`.
//
//   Gi = (W + Λi)⁻¹, W = within⁻¹      Ai = Λi Gi W            mean: (κ0 W + Σ Ai)⁻¹ Σ W Gi hi
//   θi − μ has mean ri = Gi (hi − Λi μ̂) and covariance Gi + Gi Λi Vμ Λi Gi
Fit round_at(const NormalInverseWishart& prior, const Matrix2d& within,
             const std::vector<LineInformation>& lines) {
    Fit fit;
    fit.within = within;
    fit.seen = Matrix2d::Zero();
    const Matrix2d inverse = within.inverse();
    Vector2d pull = Vector2d::Zero();
    for (const auto& line : lines) {
        CoilShare coil;
        coil.scatter = (inverse + line.precision).inverse();
        const Matrix2d about = line.precision * coil.scatter * inverse;
        coil.about_mean = 0.5 * (about + about.transpose());
        coil.pull = inverse * (coil.scatter * line.pull);
        fit.seen += coil.about_mean;
        pull += coil.pull;
        fit.coils.push_back(coil);
    }
    fit.mean_precision = prior.kappa * inverse + fit.seen;
    fit.mean_covariance = fit.mean_precision.inverse();
    fit.mean = fit.mean_covariance * pull;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        Matrix2d& scatter = fit.coils[i].scatter;
        const Vector2d off = scatter * (lines[i].pull - lines[i].precision * fit.mean);
        const Matrix2d seen = scatter * lines[i].precision;
        scatter += off * off.transpose() + seen * fit.mean_covariance * seen.transpose();
    }
    return fit;
}

// The spread that the round's expected scatter implies. The mean's own distribution is a further
// normal factor with Σ, hence the 1; with exact readings it cancels: Ψ (1 − 1/(νn + 1)) = Ψn.
Matrix2d implied_spread(const NormalInverseWishart& prior, const Fit& fit) {
    Matrix2d sum =
        prior.spread + prior.kappa * (fit.mean * fit.mean.transpose() + fit.mean_covariance);
    for (const auto& coil : fit.coils) sum += coil.scatter;
    return sum / (nu0 + static_cast<double>(fit.coils.size()) + 1.0);
}

// A spread as three free numbers and back: ln of the Cholesky factor's diagonal, and the rest of it
// relative to that.
Vector3d free_numbers(const Matrix2d& spread) {
    const Matrix2d l = spread.llt().matrixL();
    return {std::log(l(0, 0)), std::log(l(1, 1)), l(1, 0) / l(1, 1)};
}
Matrix2d spread_from(const Vector3d& numbers) {
    Matrix2d l = Matrix2d::Zero();
    l(0, 0) = std::exp(numbers(0));
    l(1, 1) = std::exp(numbers(1));
    l(1, 0) = numbers(2) * l(1, 1);
    return l * l.transpose();
}

// Newton's steps on the three numbers wherever they bring the fixed point nearer; else a plain
// round, which always does. Readings that leave a direction open would make plain rounds crawl.
Fit fixed_point(const NormalInverseWishart& prior, const std::vector<LineInformation>& lines,
                const Matrix2d& start) {
    const auto next = [&](const Vector3d& at) {
        return free_numbers(implied_spread(prior, round_at(prior, spread_from(at), lines)));
    };
    Vector3d at = free_numbers(start);
    Vector3d off = next(at) - at;
    for (int round = 0; round < 200 && off.cwiseAbs().maxCoeff() > 1e-13; ++round) {
        constexpr double step = 1e-6;
        Eigen::Matrix3d slope;
        for (int i = 0; i < 3; ++i) {
            const Vector3d moved = at + step * Vector3d::Unit(i);
            slope.col(i) = (next(moved) - moved - off) / step;
        }
        const Vector3d newton = at - slope.inverse() * off;
        if (newton.allFinite() && (newton - at).cwiseAbs().maxCoeff() < 3.0) {
            const Vector3d newton_off = next(newton) - newton;
            if (newton_off.cwiseAbs().maxCoeff() < 0.5 * off.cwiseAbs().maxCoeff()) {
                at = newton;
                off = newton_off;
                continue;
            }
        }
        if (off.cwiseAbs().maxCoeff() < 1e-11) break;  // rounding is all that is left
        at += off;
        off = next(at) - at;
    }
    return round_at(prior, spread_from(at), lines);
}

// How many coils are behind the spread in each of two directions. With within = L Lᵀ, Lᵀ A L of
// all coils has eigenvalues between 0 and their number: what is determined of them. `spread_out`
// is the matrix that stretches each direction u by √(ν/(ν − 3)), which a t's covariance needs.
struct Freedom {
    double smallest_nu;
    Matrix2d spread_out;
};
Freedom freedom_of(const Fit& fit) {
    const Matrix2d l = fit.within.llt().matrixL();
    const Eigen::SelfAdjointEigenSolver<Matrix2d> directions(
        Matrix2d(l.transpose() * fit.seen * l));
    const Vector2d nu = nu0 + directions.eigenvalues().array().max(0.0);
    const Vector2d stretch = (nu.array() / (nu.array() - 3.0)).sqrt();
    const Matrix2d u = directions.eigenvectors();
    return {nu.minCoeff(), l * u * stretch.asDiagonal() * u.transpose() * l.inverse()};
}

StudentT2 predictive(const Fit& fit) {
    const auto freedom = freedom_of(fit);
    const double df = freedom.smallest_nu - 1.0;
    const Matrix2d covariance =
        freedom.spread_out * (fit.within + fit.mean_covariance) * freedom.spread_out.transpose();
    return {fit.mean, covariance * ((df - 2.0) / df), df};
}

// How probable it is that a right coil lies as far out as this one. For exact readings the squared
// distance over the number of directions is an F; an error of reading adds to the scale.
double chance_of(const LineInformation& line, const StudentT2& foretold) {
    const auto off = misfit(line, {foretold.mean, foretold.scale});
    if (off.directions == 0) return 1.0;
    const boost::math::fisher_f by_chance(off.directions, foretold.degrees_of_freedom);
    return boost::math::cdf(boost::math::complement(by_chance, off.squared / off.directions));
}

// The others' fit nearly, at no cost: without what the coil added, all else as it is.
double nearly_chance_without(const Fit& fit, std::size_t i, const LineInformation& line) {
    const auto& coil = fit.coils[i];
    const double behind = nu0 + static_cast<double>(fit.coils.size()) + 1.0;
    Fit others;
    others.within = (behind * fit.within - coil.scatter) / (behind - 1.0);
    others.mean_covariance = (fit.mean_precision - coil.about_mean).inverse();
    others.mean = others.mean_covariance * (fit.mean_precision * fit.mean - coil.pull);
    others.seen = fit.seen - coil.about_mean;
    const bool is_sound = others.within(0, 0) > 0.0 && others.within.determinant() > 0.0;
    return is_sound ? chance_of(line, predictive(others)) : 0.0;
}

// With this many coils or fewer, each is judged exactly; among more, only those that may be wrong.
constexpr std::size_t all_judged_exactly = 20;
constexpr double may_be_wrong = 20.0 * wrong_confirmation_chance;

struct Worst {
    std::size_t at = 0;
    double chance = 1.0;
};

Worst worst_of(const NormalInverseWishart& prior, const std::vector<LineInformation>& lines,
               const Fit& fit) {
    Worst worst;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (lines.size() > all_judged_exactly &&
            nearly_chance_without(fit, i, lines[i]) > may_be_wrong) {
            continue;
        }
        auto others = lines;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
        const auto foretold = predictive(fixed_point(prior, others, fit.within));
        const double chance = chance_of(lines[i], foretold);
        if (chance < worst.chance) worst = {i, chance};
    }
    return worst;
}

LineDistribution distribution_of(const StudentT2& student) {
    const double freedom = student.degrees_of_freedom;
    auto line =
        distribution_of(Gaussian2{student.mean, student.scale * (freedom / (freedom - 2.0))});
    line.degrees_of_freedom = freedom;
    return line;
}

// The class that the coil's weight and density fit best, if it is not `confirmed`.
std::optional<std::string> better_class(const ReferenceLibrary& library,
                                        const std::string& confirmed, const LineInformation& line) {
    const ReferenceClass* best = nullptr;
    double best_ln = 0.0;
    for (const auto& each : library) {
        const double ln = std::log(each.weight) + ln_marginal(line, gaussian_of(each.line));
        if (best == nullptr || ln > best_ln) {
            best = &each;
            best_ln = ln;
        }
    }
    if (best == nullptr || best->name == confirmed) return std::nullopt;
    return best->name;
}

}  // namespace

NormalInverseWishart prior_of(const LineDistribution& built_in) {
    const auto gaussian = gaussian_of(built_in);
    constexpr double kappa0 = coils_behind_built_in_mean;
    return {gaussian.mean, kappa0, nu0,
            gaussian.covariance * (kappa0 * (nu0 - 3.0) / (kappa0 + 1.0))};
}

NormalInverseWishart prior_of_one_line(const LinePoint& about) {
    return {about, coils_behind_own_mean, nu0, within_line_covariance() * (nu0 - 3.0)};
}

NormalInverseWishart updated(const NormalInverseWishart& prior,
                             const std::vector<LinePoint>& lines) {
    if (lines.empty()) return prior;
    const double n = static_cast<double>(lines.size());
    Vector2d sum = Vector2d::Zero();
    for (const auto& line : lines) sum += line;
    const Vector2d mean = sum / n;
    NormalInverseWishart after = prior;
    after.kappa += n;
    after.nu += n;
    after.mean = (prior.kappa * prior.mean + sum) / after.kappa;
    for (const auto& line : lines) {
        after.spread += (line - mean) * (line - mean).transpose();
    }
    const Vector2d off = mean - prior.mean;
    after.spread += (prior.kappa * n / after.kappa) * off * off.transpose();
    return after;
}

StudentT2 predictive(const NormalInverseWishart& beliefs) {
    const double freedom = beliefs.nu - 1.0;
    assert(freedom > 0.0);
    return {beliefs.mean, beliefs.spread * ((beliefs.kappa + 1.0) / (beliefs.kappa * freedom)),
            freedom};
}

// Γ((ν + 2)/2) / (Γ(ν/2) ν π √|S|) (1 + δᵀ S⁻¹ δ / ν)^−(ν + 2)/2, and Γ((ν + 2)/2)/Γ(ν/2) = ν/2.
double ln_density(const StudentT2& distribution, const LinePoint& point) {
    const double freedom = distribution.degrees_of_freedom;
    const Vector2d off = point - distribution.mean;
    const double squared = off.dot(distribution.scale.inverse() * off);
    return -std::log(2.0 * std::numbers::pi) - 0.5 * std::log(distribution.scale.determinant()) -
           0.5 * (freedom + 2.0) * std::log1p(squared / freedom);
}

Learned learn(const LineDistribution& built_in, std::vector<ConfirmedCoil> coils) {
    return learn(built_in, prior_of(built_in), std::move(coils));
}

Learned learn(const LineDistribution& before, const NormalInverseWishart& prior,
              std::vector<ConfirmedCoil> coils) {
    std::erase_if(coils, [](const ConfirmedCoil& coil) { return coil.line.is_empty(); });
    std::ranges::sort(coils, {}, &ConfirmedCoil::key);
    auto lines = relative_to(prior.mean, coils);

    Learned learned{before, before, {}, {}, 0.0, 0.0, 0, {}};
    auto fit = fixed_point(prior, lines, prior.spread / nu0);
    while (!lines.empty()) {
        const auto worst = worst_of(prior, lines, fit);
        if (!(worst.chance < wrong_confirmation_chance)) break;
        const auto at = static_cast<std::ptrdiff_t>(worst.at);
        learned.set_aside.push_back({coils[worst.at].key, worst.chance});
        coils.erase(coils.begin() + at);
        lines.erase(lines.begin() + at);
        fit = fixed_point(prior, lines, prior.spread / nu0);
    }
    learned.used = static_cast<int>(lines.size());
    learned.mean = {prior.mean + fit.mean, fit.mean_covariance};
    learned.within = fit.within;
    learned.kappa = 2.0 / (fit.within.inverse() * fit.mean_covariance).trace();
    learned.nu = freedom_of(fit).smallest_nu;
    if (learned.used > 0) {
        auto student = predictive(fit);
        student.mean += prior.mean;
        learned.after = distribution_of(student);
    }
    return learned;
}

LearnedLibrary learn_library(const ReferenceLibrary& built_in,
                             const std::vector<ConfirmedAs>& coils) {
    LearnedLibrary result{built_in, {}, {}};
    for (auto& each : result.library) {
        std::vector<ConfirmedCoil> of_class;
        for (const auto& coil : coils) {
            if (coil.class_name == each.name && each.family != Family::unlisted) {
                of_class.push_back({coil.key, coil.line});
            }
        }
        const auto prior = is_named_here(each) ? prior_of_one_line(gaussian_of(each.line).mean)
                                               : prior_of(each.line);
        result.classes.push_back(learn(each.line, prior, std::move(of_class)));
        each.line = result.classes.back().after;
    }
    for (std::size_t k = 0; k < result.library.size(); ++k) {
        for (const auto& aside : result.classes[k].set_aside) {
            const auto& name = result.library[k].name;
            const auto coil = std::ranges::find(coils, aside.key, &ConfirmedAs::key);
            result.doubtful.push_back(
                {aside.key, name, aside.chance, better_class(result.library, name, coil->line)});
        }
    }
    return result;
}

}  // namespace coilbook
