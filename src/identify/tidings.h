// What a reading tells: how much the doubt about an answer is expected to shrink by it.
//
// For a reading Z that was not taken yet and the answer G (the class, or its grain class, or …),
//
//     I(G; Z) = Σ_g P(g) ∫ p(z | g) log2 [p(z | g) / p(z)] dz
//
// bits (Shannon; Lindley, Ann. Math. Stat. 27 (1956) 986). A measured Z is normal under each class;
// the integral is a sum over evenly spaced points, which for smooth functions that die away is the
// best rule there is (Trefethen and Weideman, SIAM Review 56 (2014) 385; from memory). Tint, taper,
// floating and the whole length have so many results, and are tables. The same sums give the chance
// that the answer itself changes.
#pragma once

#include <boost/container/small_vector.hpp>
#include <cmath>
#include <cstddef>
#include <span>

namespace coilbook {

// Few classes are left in a race as a rule, so that lists of them fit without asking for memory.
template <class T>
using Few = boost::container::small_vector<T, 16>;

// Expected bits about the answer, right to a millionth, and the chance that the most probable
// answer changes, right to some thousandths (0.05 at worst, where answers take turns within a
// step).
struct Tidings {
    double bits;
    double chance_of_change;
};

// A reading that is normal under each class. Weights sum to 1, sd above zero; classes of one answer
// share it. Answers are numbered from 0 without gaps.
struct NormalOutcome {
    double weight;
    double mean;
    double sd;
    std::size_t answer;
};
[[nodiscard]] Tidings tidings_of(std::span<const NormalOutcome> outcomes);

// A reading with few results: each class has its weight, its answer, the probability of each
// result, and entropy_of() these; all have equally many results.
struct TabledOutcome {
    double weight;
    std::span<const double> results;
    std::size_t answer;
    double entropy;
};
// −Σ p ln p of probabilities, in nats.
[[nodiscard]] double entropy_of(std::span<const double> probabilities);
[[nodiscard]] Tidings tidings_of(std::span<const TabledOutcome> outcomes);

// Bits that the reading cannot exceed, for a fraction of the work. For a normal reading, what one
// bell with the mean and variance of all together would have more entropy than the classes' own:
// of all with its variance, the normal has the most. For a table, the doubt about which table it
// is. Both are for answers that only one class gives, and so are above the truth for others.
// Source: Cover and Thomas, Elements of Information Theory (1991), theorems 9.6.5 and 2.8.1 (from
// memory; the tests hold both against tidings_of).
[[nodiscard]] double most_bits(std::span<const NormalOutcome> outcomes);
[[nodiscard]] double most_bits(std::span<const TabledOutcome> outcomes);

// The same by how far the classes are apart, pair by pair: with the divergence
// D(i‖j) = ∫ p(z | i) ln [p(z | i) / p(z | j)] dz of each pair,
//
//     I(class; Z)  ≤  −Σ_i P(i) log2 Σ_j P(j) e^(−D(i‖j)),
//
// since the logarithm of a mean is at least the mean of the logarithms (Jensen). Dearer than
// most_bits, and sharper where one class has most of the probability.
// Source: Kolchinsky and Tracey, Entropy 19 (2017) 361 (from memory; the tests hold it against
// tidings_of). `weight(i)` sums to 1 over 0 … count − 1; `closeness(i, j)` is e^(−D(i‖j)).
[[nodiscard]] double most_bits_by_pairs(std::size_t count, const auto& weight,
                                        const auto& closeness) {
    double bits = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        double near = 0.0;
        for (std::size_t j = 0; j < count; ++j) near += weight(j) * closeness(i, j);
        bits -= weight(i) * std::log2(near);
    }
    return bits;
}
[[nodiscard]] double most_bits_by_pairs(std::span<const NormalOutcome> outcomes);

// e^(−D) of two tables with equally many results; 0 where `other` rules out what `table` does not.
[[nodiscard]] double closeness(std::span<const double> table, std::span<const double> other);

}  // namespace coilbook
