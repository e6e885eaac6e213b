// How good a judge of coils the program is, where the truth is known: right answers, honest
// probabilities, intervals that hold what they promise.
//
// A question ("which grain class?") has a few answers; of each coil the program gives every answer
// a probability. Scores are means over coils with the standard error that so many coils leave. They
// assume coils that are independent of one another: a bin weighed on one bench is not.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace coilbook {

// A mean or share over coils, and its standard error (0 where there is but one coil).
struct Estimate {
    double value;
    double standard_error;
};

// What one coil's probabilities are worth, given the true answer.
struct ScoredAnswer {
    double confidence;  // the probability of the most probable answer
    bool is_right;      // that answer is the true one
    double brier;       // Σ (p_j − [j is true])², 0 … 2
    double log_loss;    // −ln p(true), at most −ln least_probability
};

// Where the truth was held impossible the loss would be infinite: such probabilities count as this,
// the spacing of doubles at 1, as scikit-learn does it since 1.3 (from memory).
inline constexpr double least_probability = 2.220446049250313e-16;

// Of equally probable answers the first counts. REQUIRES: `truth` is an index into `probabilities`,
// which sum to 1.
[[nodiscard]] ScoredAnswer scored(std::span<const double> probabilities, std::size_t truth);

// Each REQUIRES at least one answer.
[[nodiscard]] Estimate accuracy(std::span<const ScoredAnswer> answers);
// The multi-class Brier score (Brier, Mon. Weather Rev. 78 (1950) 1), 0 best, 2 worst.
[[nodiscard]] Estimate brier_score(std::span<const ScoredAnswer> answers);
[[nodiscard]] Estimate log_loss(std::span<const ScoredAnswer> answers);

// Expected calibration error of the most probable answer: coils fall into bins of equal width by
// their confidence, (0, 1/15], (1/15, 2/15] …; in each, how far the share of right answers is from
// the mean confidence; and the mean of that, weighted by the coils in the bin.
// The standard error takes each bin's sign as given.
// Source: Guo et al., Proc. ICML 2017, section 2 (from memory).
inline constexpr std::size_t calibration_bins = 15;
[[nodiscard]] Estimate calibration_error(std::span<const ScoredAnswer> answers);

// What calibration_error is expected to be by chance alone for a judge whose probabilities are
// right: Σ_bins √(2/π Σ p (1 − p)) / coils. It never comes to zero, and falls as 1/√coils.
[[nodiscard]] double calibration_error_by_chance(std::span<const ScoredAnswer> answers);

// `count` of `total`; the binomial standard error. REQUIRES: 0 <= count <= total, total > 0.
[[nodiscard]] Estimate share(std::size_t count, std::size_t total);

// Between what two shares the true one lies with about 95 %, after `count` of `total`: Wilson's
// score interval. Unlike the standard error it says something where all or none were right: 10 of
// 10 are 0.72 to 1. REQUIRES: count <= total, total > 0.
// Source: Wilson, J. Am. Stat. Assoc. 22 (1927) 209 (from memory).
struct ShareBounds {
    double low, high;  // 0 … 1
};
[[nodiscard]] ShareBounds share_bounds(std::size_t count, std::size_t total);

// How sure the program said that it was, on average: the mean confidence. An honest judge's is his
// accuracy. REQUIRES at least one answer.
[[nodiscard]] Estimate mean_certainty(std::span<const ScoredAnswer> answers);

// How often one judge is right for each time that another is, on the same coils: the ratio of the
// two accuracies, with the standard error of a ratio of paired means (the delta method).
// REQUIRES: as many of the one as of the other, and the other is right at least once.
struct PairedAnswer {
    bool is_right;
    bool other_is_right;
};
[[nodiscard]] Estimate share_of_other(std::span<const PairedAnswer> answers);

// Telling coils that are no listed class by the probability of `unlisted`: the highest threshold
// that still catches `wanted` of the clearly foreign ones (at or above it), and what it costs.
struct ForeignCatch {
    double threshold;
    Estimate caught;
    Estimate listed_called_unlisted;
};
// Of both kinds, the probabilities of `unlisted`. REQUIRES: neither empty; 0 < wanted <= 1.
[[nodiscard]] ForeignCatch catch_foreign(std::vector<double> foreign,
                                         std::span<const double> listed, double wanted);

}  // namespace coilbook
