#include "identify/scoring.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace coilbook {
namespace {

// Mean and standard error of `value` over all answers.
template <class Answer, class Value>
Estimate mean(std::span<const Answer> answers, Value value) {
    assert(!answers.empty());
    const double n = static_cast<double>(answers.size());
    double sum = 0.0;
    for (const auto& each : answers) sum += value(each);
    const double middle = sum / n;
    double squares = 0.0;
    for (const auto& each : answers) squares += std::pow(value(each) - middle, 2);
    return {middle, n > 1.0 ? std::sqrt(squares / (n - 1.0) / n) : 0.0};
}

std::size_t bin_of(const ScoredAnswer& answer) {
    constexpr double bins = calibration_bins;
    const double upper = std::ceil(answer.confidence * bins);  // (i / bins, (i + 1) / bins]
    return static_cast<std::size_t>(std::clamp(upper - 1.0, 0.0, bins - 1.0));
}

}  // namespace

ScoredAnswer scored(std::span<const double> probabilities, std::size_t truth) {
    assert(truth < probabilities.size());
    const auto top = std::ranges::max_element(probabilities);
    ScoredAnswer answer{*top, top - probabilities.begin() == static_cast<std::ptrdiff_t>(truth),
                        0.0, -std::log(std::max(probabilities[truth], least_probability))};
    for (std::size_t j = 0; j < probabilities.size(); ++j) {
        answer.brier += std::pow(probabilities[j] - (j == truth ? 1.0 : 0.0), 2);
    }
    return answer;
}

Estimate accuracy(std::span<const ScoredAnswer> answers) {
    const auto right = std::ranges::count(answers, true, &ScoredAnswer::is_right);
    return share(static_cast<std::size_t>(right), answers.size());
}

Estimate brier_score(std::span<const ScoredAnswer> answers) {
    return mean(answers, [](const ScoredAnswer& each) { return each.brier; });
}

Estimate log_loss(std::span<const ScoredAnswer> answers) {
    return mean(answers, [](const ScoredAnswer& each) { return each.log_loss; });
}

Estimate calibration_error(std::span<const ScoredAnswer> answers) {
    const auto excess = [](const ScoredAnswer& each) {
        return (each.is_right ? 1.0 : 0.0) - each.confidence;
    };
    std::array<double, calibration_bins> sums{};
    for (const auto& each : answers) sums[bin_of(each)] += excess(each);
    return mean(answers, [&](const ScoredAnswer& each) {
        return sums[bin_of(each)] < 0.0 ? -excess(each) : excess(each);
    });
}

// The mean of |N(0, s)| is s √(2/π).
double calibration_error_by_chance(std::span<const ScoredAnswer> answers) {
    assert(!answers.empty());
    std::array<double, calibration_bins> variances{};
    for (const auto& each : answers) {
        variances[bin_of(each)] += each.confidence * (1.0 - each.confidence);
    }
    double sum = 0.0;
    for (const double variance : variances) {
        sum += std::sqrt(2.0 * std::max(variance, 0.0) / std::numbers::pi);
    }
    return sum / static_cast<double>(answers.size());
}

Estimate share(std::size_t count, std::size_t total) {
    assert(total > 0 && count <= total);
    const double n = static_cast<double>(total);
    const double p = static_cast<double>(count) / n;
    return {p, std::sqrt(p * (1.0 - p) / n)};
}

// With p = count / n and z = 1.96: (p + z²/2n ± z √(p (1 − p)/n + z²/4n²)) / (1 + z²/n).
ShareBounds share_bounds(std::size_t count, std::size_t total) {
    assert(total > 0 && count <= total);
    constexpr double z = 1.959963984540054;  // of the normal distribution, 97.5 %
    const double n = static_cast<double>(total);
    const double p = static_cast<double>(count) / n;
    const double middle = p + z * z / (2.0 * n);
    const double half = z * std::sqrt(p * (1.0 - p) / n + z * z / (4.0 * n * n));
    const double scale = 1.0 + z * z / n;
    // Exactly 0 and 1 at the ends, where rounding would fall short by a hair.
    return {count == 0 ? 0.0 : (middle - half) / scale,
            count == total ? 1.0 : (middle + half) / scale};
}

Estimate mean_certainty(std::span<const ScoredAnswer> answers) {
    return mean(answers, [](const ScoredAnswer& each) { return each.confidence; });
}

// With r = Σa / Σb, the error of r is that of the mean of (a − r b) / mean b.
Estimate share_of_other(std::span<const PairedAnswer> answers) {
    const auto one =
        mean(answers, [](const PairedAnswer& each) { return each.is_right ? 1.0 : 0.0; });
    const auto other =
        mean(answers, [](const PairedAnswer& each) { return each.other_is_right ? 1.0 : 0.0; });
    assert(other.value > 0.0);
    const double ratio = one.value / other.value;
    const auto residual = mean(answers, [&](const PairedAnswer& each) {
        return ((each.is_right ? 1.0 : 0.0) - ratio * (each.other_is_right ? 1.0 : 0.0)) /
               other.value;
    });
    return {ratio, residual.standard_error};
}

ForeignCatch catch_foreign(std::vector<double> foreign, std::span<const double> listed,
                           double wanted) {
    assert(!foreign.empty() && !listed.empty() && wanted > 0.0 && wanted <= 1.0);
    std::ranges::sort(foreign);
    const double n = static_cast<double>(foreign.size());
    // So many may be missed; the hair is for products like 0.95 · 20 that fall short of 19.
    const auto missed = static_cast<std::size_t>(std::floor((1.0 - wanted) * n + 1e-9));
    const double threshold = foreign[missed];
    const auto at_or_above = [&](const auto& probabilities) {
        const auto count = std::ranges::count_if(
            probabilities, [&](double probability) { return probability >= threshold; });
        return share(static_cast<std::size_t>(count), probabilities.size());
    };
    return {threshold, at_or_above(foreign), at_or_above(listed)};
}

}  // namespace coilbook
