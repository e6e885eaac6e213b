#include "identify/scoring.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>

#include "support/near.h"

using namespace coilbook;

namespace {

// Eight coils, three answers. All check values for these below were computed with
// scikit-learn 1.2.1 and numpy 1.24.2 of Debian 12: accuracy_score; log_loss; brier_score_loss of
// each answer, summed; calibration_curve(n_bins=15, strategy="uniform"), weighted by the coils in
// each bin.
struct Row {
    std::array<double, 3> probabilities;
    std::size_t truth;
};
constexpr std::array rows{
    Row{{0.7, 0.2, 0.1}, 0},   Row{{0.1, 0.8, 0.1}, 1},   Row{{0.3, 0.3, 0.4}, 0},
    Row{{0.05, 0.05, 0.9}, 2}, Row{{0.5, 0.25, 0.25}, 1}, Row{{0.2, 0.75, 0.05}, 1},
    Row{{0.62, 0.3, 0.08}, 0}, Row{{0.1, 0.2, 0.7}, 1},
};

std::vector<ScoredAnswer> answers() {
    std::vector<ScoredAnswer> all;
    for (const auto& row : rows) all.push_back(scored(row.probabilities, row.truth));
    return all;
}

}  // namespace

TEST_SUITE("Scoring answers whose truth is known") {
    TEST_CASE("a sure right answer scores 0, a sure wrong one 2, and a shrug in between") {
        const std::array sure{1.0, 0.0, 0.0};
        CHECK(scored(sure, 0).brier == 0.0);
        CHECK(scored(sure, 0).log_loss == 0.0);
        CHECK(scored(sure, 1).brier == 2.0);
        // The loss of what was held impossible is large but finite: -ln 2^-52.
        CHECK(near(scored(sure, 1).log_loss, 52.0 * std::log(2.0), 1e-9));
        const std::array shrug{1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0};
        CHECK(near(scored(shrug, 2).brier, 4.0 / 9.0 + 2.0 / 9.0, 1e-12));
        CHECK(near(scored(shrug, 2).log_loss, std::log(3.0), 1e-12));
    }

    TEST_CASE("a worked example: 8 right of 10 may be from 49 to 94 %") {
        // z = 1.959964, z² = 3.841459. Middle (0.8 + 0.192073) / 1.384146 = 0.716740; half
        // 1.959964 √(0.016 + 0.0096036) / 1.384146 = 0.226576.
        const auto bounds = share_bounds(8, 10);
        CHECK(near(bounds.low, 0.490164, 1e-5));
        CHECK(near(bounds.high, 0.943316, 1e-5));
    }

    TEST_CASE("all right is not proof: 10 of 10 may be as few as 72 %") {
        // p = 1: low = 1 / (1 + z²/n) = 1 / 1.3841459 = 0.722467.
        CHECK(near(share_bounds(10, 10).low, 0.722467, 1e-6));
        CHECK(share_bounds(10, 10).high == 1.0);
        CHECK(share_bounds(0, 10).low == 0.0);
        CHECK(near(share_bounds(0, 10).high, 1.0 - 0.722467, 1e-6));
    }

    TEST_CASE("the mean certainty is that of the answers given") {
        // The largest of each row: 0.7 0.8 0.4 0.9 0.5 0.75 0.62 0.7, in all 5.37.
        CHECK(near(mean_certainty(answers()).value, 5.37 / 8.0, 1e-12));
    }

    TEST_CASE("of equally probable answers the first counts") {
        const std::array tie{0.2, 0.4, 0.4};
        CHECK(scored(tie, 1).is_right);
        CHECK_FALSE(scored(tie, 2).is_right);
    }

    TEST_CASE("accuracy, Brier score and log loss are what scikit-learn says") {
        CHECK(near(accuracy(answers()).value, 0.625, 1e-12));
        CHECK(near(brier_score(answers()).value, 0.414475, 1e-12));
        CHECK(near(log_loss(answers()).value, 0.7063252452731845, 1e-12));
        // Standard errors of a mean, numpy: std(ddof=1) / sqrt(8).
        CHECK(near(brier_score(answers()).standard_error, 0.15416499944400944, 1e-12));
        CHECK(near(log_loss(answers()).standard_error, 0.210011914904657, 1e-12));
        CHECK(near(accuracy(answers()).standard_error, std::sqrt(0.625 * 0.375 / 8.0), 1e-12));
    }

    TEST_CASE("the calibration error is that of scikit-learn's reliability curve") {
        CHECK(near(calibration_error(answers()).value, 0.27875, 1e-12));
        CHECK(near(calibration_error_by_chance(answers()), 0.3004882892886247, 1e-12));
    }

    TEST_CASE("by hand: two bins, one too sure and one too timid") {
        // 0.9 said four times and right twice: off by 0.4; 0.6 said once and right: off by 0.4.
        const ScoredAnswer right{0.9, true, 0.0, 0.0};
        const ScoredAnswer wrong{0.9, false, 0.0, 0.0};
        const std::vector<ScoredAnswer> said{right, wrong, right, wrong, {0.6, true, 0.0, 0.0}};
        CHECK(near(calibration_error(said).value, (4 * 0.4 + 1 * 0.4) / 5.0, 1e-12));
    }

    TEST_CASE("certainty belongs to the last bin and no confidence to the first") {
        const std::vector<ScoredAnswer> sure{{1.0, true, 0.0, 0.0}, {0.99, false, 0.0, 0.0}};
        CHECK(near(calibration_error(sure).value, (1.99 - 1.0) / 2.0, 1e-12));
        const std::vector<ScoredAnswer> lost{{0.0, false, 0.0, 0.0}};
        CHECK(calibration_error(lost).value == 0.0);
    }

    TEST_CASE("an honest judge's calibration error is what chance leaves, a braggart's is not") {
        std::mt19937 random(11);
        std::uniform_real_distribution<double> any(0.0, 1.0);
        double honest = 0.0;
        double chance = 0.0;
        double braggart = 0.0;
        constexpr int bins = 200;
        for (int i = 0; i < bins; ++i) {
            std::vector<ScoredAnswer> said;
            std::vector<ScoredAnswer> boasted;
            for (int j = 0; j < 500; ++j) {
                const double p = 0.5 + 0.4 * any(random);
                const bool right = any(random) < p;
                said.push_back({p, right, 0.0, 0.0});
                boasted.push_back({p + 0.1, right, 0.0, 0.0});
            }
            honest += calibration_error(said).value / bins;
            chance += calibration_error_by_chance(said) / bins;
            braggart += calibration_error(boasted).value / bins;
        }
        CHECK(near(honest, chance, 0.002));
        CHECK(near(braggart, 0.1, 0.005));
    }

    TEST_CASE("how often right against another judge, with the error of a ratio") {
        constexpr std::array one{1, 1, 0, 1, 0, 1, 1, 1, 1, 0};
        constexpr std::array other{1, 1, 1, 1, 0, 1, 1, 0, 1, 0};
        std::vector<PairedAnswer> pairs;
        for (std::size_t i = 0; i < one.size(); ++i) pairs.push_back({one[i] == 1, other[i] == 1});
        CHECK(near(share_of_other(pairs).value, 1.0, 1e-12));
        // numpy: ((a - r b) / mean b).std(ddof=1) / sqrt(10).
        CHECK(near(share_of_other(pairs).standard_error, 0.21295885499997996, 1e-12));
        for (auto& pair : pairs) pair.is_right = pair.other_is_right;
        CHECK(share_of_other(pairs).standard_error == 0.0);
    }

    TEST_CASE("the threshold catches nineteen of twenty foreign coils and costs what it costs") {
        std::vector<double> foreign{0.01};
        for (int i = 1; i < 20; ++i) foreign.push_back(0.5 + 0.01 * i);
        const std::array listed{0.0, 0.1, 0.3, 0.51, 0.9};
        const auto found = catch_foreign(foreign, listed, 0.95);
        CHECK(found.threshold == 0.51);
        CHECK(near(found.caught.value, 0.95, 1e-12));
        CHECK(near(found.listed_called_unlisted.value, 0.4, 1e-12));
        // To catch all of them the threshold must fall to the least suspect one.
        CHECK(catch_foreign(foreign, listed, 1.0).threshold == 0.01);
    }
}
