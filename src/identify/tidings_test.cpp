#include "identify/tidings.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "identify/p_ln_p.h"
#include "support/near.h"

using namespace coilbook;

namespace {

double bits_of(std::initializer_list<NormalOutcome> outcomes) {
    return tidings_of(std::span<const NormalOutcome>(outcomes.begin(), outcomes.size())).bits;
}

// Some classes, of which neighbours may give the same answer, `spreading` apart in their spreads.
std::vector<NormalOutcome> random_outcomes(std::mt19937& random, double spreading) {
    std::uniform_real_distribution<double> uniform;
    std::vector<NormalOutcome> outcomes(2 + random() % 12);
    double sum = 0.0;
    std::size_t answer = 0;
    for (auto& each : outcomes) {
        each = {uniform(random), 0.3 * uniform(random), 0.05 * std::pow(spreading, uniform(random)),
                answer};
        sum += each.weight;
        answer += random() % 3 > 0 ? 1 : 0;
    }
    for (auto& each : outcomes) each.weight /= sum;
    return outcomes;
}

// The sums written out, with points a hundredth of the narrowest spread apart.
Tidings by_brute_force(const std::vector<NormalOutcome>& outcomes) {
    std::vector<double> prior(outcomes.back().answer + 1, 0.0);
    double narrowest = 1.0;
    double widest = 0.0;
    for (const auto& each : outcomes) {
        prior[each.answer] += each.weight;
        narrowest = std::min(narrowest, each.sd);
        widest = std::max(widest, each.sd);
    }
    const auto best = std::ranges::max_element(prior) - prior.begin();
    Tidings tidings{0.0, 0.0};
    const double step = 0.01 * narrowest;
    for (double z = -8.0 * widest; z < 0.3 + 8.0 * widest; z += step) {
        std::vector<double> joint(prior.size(), 0.0);
        double all = 0.0;
        for (const auto& each : outcomes) {
            const double t = (z - each.mean) / each.sd;
            const double density = each.weight * std::exp(-0.5 * t * t) /
                                   (each.sd * std::sqrt(2.0 * std::numbers::pi));
            joint[each.answer] += density;
            all += density;
        }
        for (std::size_t g = 0; g < joint.size(); ++g) {
            if (joint[g] > 0.0) {
                tidings.bits += step * joint[g] * std::log2(joint[g] / (prior[g] * all));
            }
        }
        if (std::ranges::max_element(joint) - joint.begin() != best) {
            tidings.chance_of_change += step * all;
        }
    }
    return tidings;
}

}  // namespace

TEST_SUITE("What a reading tells") {
    // Source: numerical integration with scipy 1.10.1 of the mutual information of two unit normal
    // distributions two standard deviations apart, equal weights.
    TEST_CASE("two bells two standard deviations apart: 0.485944 bits") {
        CHECK(near(bits_of({{0.5, 0.0, 1.0, 0}, {0.5, 2.0, 1.0, 1}}), 0.485944154, 1e-6));
    }

    // The two ways of integrating, one row for all classes or each class its own, meet where the
    // spreads are so far apart that the other one is chosen.
    TEST_CASE("what a reading tells changes smoothly with how wide the classes are") {
        double before = 0.0;
        for (double wide = 1.0; wide < 200.0; wide *= 1.05) {
            const double bits =
                bits_of({{0.5, 0.0, 1.0, 0}, {0.3, 2.0, 1.2, 1}, {0.2, 0.5, wide, 2}});
            CAPTURE(wide);
            if (before > 0.0) CHECK(std::abs(bits - before) < 0.03);
            before = bits;
        }
        // Infinitely wide, it is told from the others without fail: 0.722 bits by H(0.2), and the
        // other two, 0.8 of the time, tell what they do among themselves.
        const double among = bits_of({{0.625, 0.0, 1.0, 0}, {0.375, 2.0, 1.2, 1}});
        CHECK(near(bits_of({{0.5, 0.0, 1.0, 0}, {0.3, 2.0, 1.2, 1}, {0.2, 0.5, 1e5, 2}}),
                   0.721928 + 0.8 * among, 0.001));
    }

    // Source: worked by hand with Bayes' rule; prior 0.3, sensitivity 0.9, specificity 0.8.
    TEST_CASE("a test of 90 % sensitivity and 80 % specificity: 0.330452 bits") {
        const std::array ill{0.9, 0.1};
        const std::array well{0.2, 0.8};
        const TabledOutcome outcomes[] = {{0.3, ill, 0, entropy_of(ill)},
                                          {0.7, well, 1, entropy_of(well)}};
        const auto tidings = tidings_of(std::span<const TabledOutcome>(outcomes));
        CHECK(near(tidings.bits, 0.330452124, 1e-9));
        // A positive result turns the answer: 0.27 against 0.14.
        CHECK(near(tidings.chance_of_change, 0.41, 1e-9));
    }

    TEST_CASE("bells far apart tell all there is, equal bells tell nothing") {
        CHECK(near(bits_of({{0.5, 0.0, 1.0, 0}, {0.5, 100.0, 1.0, 1}}), 1.0, 1e-9));
        CHECK(near(bits_of({{0.5, 1.0, 1.0, 0}, {0.5, 1.0, 1.0, 1}}), 0.0, 1e-12));
    }

    TEST_CASE("the sums agree with brute force, spreads alike or not, answers shared or not") {
        std::mt19937 random(20261125);
        for (const double spreading : {1.5, 30.0}) {
            for (int i = 0; i < 40; ++i) {
                const auto outcomes = random_outcomes(random, spreading);
                const auto tidings = tidings_of(outcomes);
                const auto expected = by_brute_force(outcomes);
                CAPTURE(spreading);
                CAPTURE(i);
                CHECK(near(tidings.bits, expected.bits, 1e-5));
                // Where the likeliest answer leads for less than a step only, that is missed.
                CHECK(near(tidings.chance_of_change, expected.chance_of_change, 0.05));
            }
        }
    }

    TEST_CASE("no reading tells more than its bound, which two bells of one centre come near") {
        std::mt19937 random(20261126);
        for (const double spreading : {1.2, 3.0, 30.0}) {
            for (int i = 0; i < 300; ++i) {
                const auto outcomes = random_outcomes(random, spreading);
                const double bits = tidings_of(outcomes).bits;
                CHECK(bits <= most_bits(outcomes) + 1e-9);
                CHECK(bits <= most_bits_by_pairs(outcomes) + 1e-9);
            }
        }
        const NormalOutcome alike[] = {{0.5, 0.0, 1.0, 0}, {0.5, 0.5, 1.0, 1}};
        CHECK(near(most_bits(alike), tidings_of(alike).bits, 0.001));
    }

    // Worked by hand: two unit bells d apart diverge by d²/2 either way, so with 0.9 and 0.1 of the
    // probability at d = 2 the bound is −0.9 log2(0.9 + 0.1 e^−2) − 0.1 log2(0.1 + 0.9 e^−2).
    TEST_CASE("by pairs, two bells two standard deviations apart: at most 0.334689 bits") {
        const NormalOutcome apart[] = {{0.9, 0.0, 1.0, 0}, {0.1, 2.0, 1.0, 1}};
        CHECK(near(most_bits_by_pairs(apart), 0.334689, 1e-6));
        CHECK(tidings_of(apart).bits < 0.334689);
    }

    // Eight apart they are as good as told apart: H(0.1) = 0.468996 bits, while one bell as wide as
    // both together would leave ½ log2(1 + 0.09 · 64) = 1.378511 bits.
    TEST_CASE("bells far apart are bounded by pairs more sharply than by one wide bell") {
        const NormalOutcome apart[] = {{0.9, 0.0, 1.0, 0}, {0.1, 8.0, 1.0, 1}};
        CHECK(near(most_bits_by_pairs(apart), 0.468996, 1e-6));
        CHECK(near(most_bits(apart), 1.378511, 1e-6));
    }

    TEST_CASE("tables are as close as their divergence says, and no reading tells more by that") {
        const std::array first{0.9, 0.1};
        const std::array second{0.2, 0.8};
        // 0.9 ln 4.5 + 0.1 ln 0.125 = 1.145726 and 0.2 ln(2/9) + 0.8 ln 8 = 1.362738.
        const double to_second = closeness(first, second);
        const double to_first = closeness(second, first);
        CHECK(near(to_second, std::exp(-1.145726), 1e-6));
        CHECK(near(to_first, std::exp(-1.362738), 1e-6));
        CHECK(closeness(first, first) == 1.0);
        CHECK(closeness(first, std::array{1.0, 0.0}) == 0.0);
        for (const double weight : {0.001, 0.1, 0.5, 0.9}) {
            const TabledOutcome outcomes[] = {{weight, first, 0, entropy_of(first)},
                                              {1.0 - weight, second, 1, entropy_of(second)}};
            const double most = most_bits_by_pairs(
                2, [&](std::size_t i) { return outcomes[i].weight; },
                [&](std::size_t i, std::size_t j) {
                    return i == j ? 1.0 : (i == 0 ? to_second : to_first);
                });
            CHECK(tidings_of(outcomes).bits <= most);
            CHECK(most <= most_bits(outcomes) + 1e-12);
        }
    }

    // Source: the C library's logarithm, one number at a time.
    TEST_CASE("p ln p is summed to the last digits, from parts in 10^300 to millions") {
        std::mt19937 random(20261127);
        std::uniform_real_distribution<double> exponent(-300.0, 6.0);
        for (std::size_t count = 0; count < 40; ++count) {
            std::vector<double> p(count);
            double expected = 0.0;
            double size = 1.0;
            for (double& each : p) {
                each = random() % 5 == 0 ? 0.0 : std::pow(10.0, exponent(random));
                if (each == 0.0) continue;
                expected += each * std::log(each);
                size += std::abs(each * std::log(each));
            }
            CHECK(near(sum_of_p_ln_p(p), expected, 1e-13 * size));
        }
    }

    TEST_CASE("a table tells no more than which table it is") {
        const std::array first{0.98, 0.01, 0.01};
        const std::array second{0.01, 0.01, 0.98};
        const TabledOutcome outcomes[] = {{0.5, first, 0, entropy_of(first)},
                                          {0.25, first, 1, entropy_of(first)},
                                          {0.25, second, 2, entropy_of(second)}};
        CHECK(near(most_bits(outcomes), 0.811278, 1e-6));  // H(1/4)
        const double bits = tidings_of(outcomes).bits;
        CHECK(bits < 0.811278);
        CHECK(bits > 0.6);
    }

    // Worked by hand: answer 0 has the tables (0.9, 0.1) and (0.5, 0.5) at weights 0.2 and 0.4, so
    // (0.38, 0.22) together; answer 1 has (0.1, 0.9) at 0.4. Then
    // 0.38 log2(0.38 / (0.6 · 0.42)) + 0.22 log2(0.22 / (0.6 · 0.58))
    // + 0.04 log2(0.04 / (0.4 · 0.42)) + 0.36 log2(0.36 / (0.4 · 0.58)) = 0.225009.
    TEST_CASE("an answer that classes with different tables give") {
        const std::array one{0.9, 0.1};
        const std::array other{0.5, 0.5};
        const std::array third{0.1, 0.9};
        const TabledOutcome outcomes[] = {{0.2, one, 0, entropy_of(one)},
                                          {0.4, other, 0, entropy_of(other)},
                                          {0.4, third, 1, entropy_of(third)}};
        const auto tidings = tidings_of(outcomes);
        CHECK(near(tidings.bits, 0.225009, 1e-6));
        CHECK(near(tidings.chance_of_change, 0.58, 1e-12));  // 0.36 against 0.22
    }
}
