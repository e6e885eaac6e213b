// Which reading would tell most about what the person wants to know, and what it costs.
//
// For a reading Z that was not taken yet and the answer G (the class, or its grain class, or …),
//
//     I(G; Z) = Σ_g P(g) ∫ p(z | g) log2 [p(z | g) / p(z)] dz
//
// bits: how much the doubt about the answer is expected to shrink (Shannon; Lindley, Ann. Math.
// Stat. 27 (1956) 986). A measured Z is normal under each class, with the class's mean and spread
// after the readings so far and the instrument's error; the integral is a sum over evenly spaced
// points, which for smooth functions that die away is the best rule there is (Trefethen and
// Weideman, SIAM Review 56 (2014) 385; from memory). Tint, taper and floating are tables, the whole
// length a grid. The same sums give the chance that the answer itself changes. Assumes the sizes
// below for a reading yet to come, and that its errors are new ones: a longer piece on the same
// scale shares some with the first, and tells a little more than said.
#pragma once

#include <span>
#include <vector>

#include "catalog/readings.h"
#include "identify/evidence.h"
#include "identify/posterior.h"
#include "identify/verdict.h"

namespace coilbook {

// What a further reading would be taken on (own assumptions).
inline constexpr Length next_short_sample = 24.0 * inch;
inline constexpr Length next_long_sample = 10.0 * foot;
inline constexpr Length next_drop = 24.0 * inch;
inline constexpr int next_diameters = 3;

// Readings expected to tell less than this are not worth naming.
inline constexpr double least_bits = 0.005;
// It is enough when no single further reading has so much of a chance to change the answer.
inline constexpr double unlikely_change = 0.01;

struct Outlook {
    std::vector<ReadingAdvice> advice;  // in the order asked for, those above least_bits
    bool enough;
};
// All readings that could still be taken on the coil that `posterior` has taken up. `readings` must
// be that coil's.
[[nodiscard]] Outlook further_readings(const CoilReadings& readings, const Evidence& evidence,
                                       const Instruments& instruments,
                                       const PreparedLibrary& library, const Posterior& posterior,
                                       const Question& question);

// What a reading tells: expected bits about the answer, and the chance that the most probable
// answer changes.
struct Tidings {
    double bits;
    double chance_of_change;
};
// A reading that is normal under each class. Weights sum to 1, sd above zero; classes of one answer
// share it.
struct NormalOutcome {
    double weight;
    double mean;
    double sd;
    std::size_t answer;
};
[[nodiscard]] Tidings tidings_of(std::span<const NormalOutcome> outcomes);

// A reading with few results: each class has its weight, its answer, and the probability of each
// result; all have equally many.
struct TabledOutcome {
    double weight;
    std::span<const double> results;
    std::size_t answer;
};
[[nodiscard]] Tidings tidings_of(std::span<const TabledOutcome> outcomes);

}  // namespace coilbook
