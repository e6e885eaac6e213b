// Which reading would tell most: expected information about the class.
//
// For a reading Z that was not taken yet, I(K; Z) = Σ_k P(k) ∫ p(z | k) log2 [p(z | k) / p(z)] dz,
// in bits: how much the uncertainty about the class is expected to shrink (Shannon; Lindley, Ann.
// Math. Stat. 27 (1956) 986). A measured Z is normal under each class, with the class's mean and
// spread after the readings so far and the instrument's error; the integral is a Gauss–Hermite sum.
// Tint, taper and floating are tables, the whole length a grid.
// Assumes the bench's default instruments and the sizes below for a reading yet to come.
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

// All readings that could still be taken on this coil, the most telling first; those that are
// expected to tell less than 0.005 bits are left out. `updates` and `probabilities` are what
// posterior() made of `readings`.
[[nodiscard]] std::vector<ReadingAdvice> further_readings(const CoilReadings& readings,
                                                          const Evidence& evidence,
                                                          const Instruments& instruments,
                                                          const ReferenceLibrary& library,
                                                          std::span<const LineUpdate> updates,
                                                          std::span<const double> probabilities);

// Expected information in bits of a reading that is normal under each class, with probability
// `weight`, `mean` and `sd`. Weights sum to 1; sd above zero.
struct NormalOutcome {
    double weight;
    double mean;
    double sd;
};
[[nodiscard]] double expected_bits(std::span<const NormalOutcome> outcomes);

// The same for a reading with few answers: row k holds weight_k · P(answer | k).
[[nodiscard]] double expected_bits(std::span<const std::vector<double>> joint);

}  // namespace coilbook
