#include "metrology/gauge_study.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

#include "support/near.h"
#include "support/ten_parts.h"

using namespace coilbook;

namespace {

std::vector<GaugeReading<Length>> ten_part_study() {
    std::vector<GaugeReading<Length>> readings;
    for (std::size_t part = 0; part < ten_parts.size(); ++part) {
        for (std::size_t i = 0; i < 9; ++i) {
            readings.push_back({std::to_string(part + 1), std::string(1, "ABC"[i / 3]),
                                ten_parts[part][i] * metre});
        }
    }
    return readings;
}

}  // namespace

TEST_SUITE("Gauge study") {
    // Computed with numpy from those readings; the manual's own figures, by its average-and-range
    // method, are near: gauge 0.3058, parts 1.1046, 26.7 %.
    TEST_CASE("the industry's study of ten parts comes out in all figures") {
        const auto study = gauge_study(ten_part_study()).value();
        CHECK(study.coils == 10);
        CHECK(study.people == 3);
        CHECK(study.repeats == 3);
        CHECK(near(study.between_coils.sum_of_squares, 88.361934, 5e-7));
        CHECK(near(study.between_people.sum_of_squares, 3.167262, 5e-7));
        CHECK(near(study.interaction.sum_of_squares, 0.358982, 5e-7));
        CHECK(near(study.repeating.sum_of_squares, 2.758933, 5e-7));
        CHECK(study.repeating.degrees_of_freedom == 60);
        CHECK(near(study.interaction_f.value(), 0.433721, 5e-7));
        CHECK(near(study.interaction_chance.value(), 0.9741, 5e-5));
        CHECK(study.is_pooled);
        CHECK(near(study.repeatability, 0.1999332 * metre, 5e-8 * metre));
        CHECK(near(study.people_differ, 0.2268375 * metre, 5e-8 * metre));
        CHECK(study.people_by_coil == Length{});
        CHECK(near(study.gauge, 0.3023715 * metre, 5e-8 * metre));
        CHECK(near(study.coils_differ, 1.0423275 * metre, 5e-8 * metre));
        CHECK(near(study.total, 1.0852996 * metre, 5e-8 * metre));
        CHECK(near(study.part_of_spread(), 0.27861, 5e-6));
        CHECK(near(study.part_of_variance(), 0.077622, 5e-7));
        CHECK(near(study.groups_told_apart(), 4.8605, 5e-5));
    }

    // NIST StRD, analysis of variance, SiRstv: resistivity of one silicon wafer by five
    // instruments, five readings each. Certified: between instruments SS 5.11462616e-2,
    // within 2.1663656e-1, F 1.18046237440 (from memory; the readings below give these figures to
    // all digits, computed).
    TEST_CASE("the certified figures for five instruments on one wafer") {
        const std::array<std::array<double, 5>, 5> instruments{
            {{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
             {196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
             {196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
             {196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
             {196.2119, 196.1051, 196.1850, 196.0052, 196.2090}}};
        std::vector<GaugeReading<Length>> readings;
        for (std::size_t i = 0; i < 5; ++i) {
            for (const double value : instruments[i]) {
                readings.push_back({"wafer", std::to_string(i), value * metre});
            }
        }
        const auto study = gauge_study(readings).value();
        CHECK(near(study.between_people.sum_of_squares, 5.11462616e-2, 1e-12));
        CHECK(study.between_people.degrees_of_freedom == 4);
        CHECK(near(study.repeating.sum_of_squares, 2.1663656e-1, 1e-12));
        CHECK(study.repeating.degrees_of_freedom == 20);
        CHECK(near(study.between_people.mean_square() / study.repeating.mean_square(),
                   1.18046237440, 1e-9));
        CHECK(near(study.people_differ, std::sqrt((1.27865654e-2 - 1.0831828e-2) / 5.0) * metre,
                   1e-9 * metre));
        CHECK_FALSE(study.interaction_f.has_value());
        CHECK(study.coils_differ == Length{});
    }

    // By hand. Two coils, two people, two readings: A reads 1 ± 0 and 5 ± 0, B reads 5 and 1, each
    // off by ± 0.1. Means of coils and of people are all 3: only the interaction is left,
    // SS = 8 · 2² = 32 on 1 degree; repeating 8 · 0.1² = 0.08 on 4, so F = 32/0.02 = 1600.
    TEST_CASE("people who differ only on some coils are found, and negative parts are zero") {
        std::vector<GaugeReading<Length>> readings;
        for (const double off : {-0.1, 0.1}) {
            readings.push_back({"1", "A", (1.0 + off) * millimetre});
            readings.push_back({"2", "A", (5.0 + off) * millimetre});
            readings.push_back({"1", "B", (5.0 + off) * millimetre});
            readings.push_back({"2", "B", (1.0 + off) * millimetre});
        }
        const auto study = gauge_study(readings).value();
        CHECK(near(study.interaction_f.value(), 1600.0, 1e-6));
        CHECK_FALSE(study.is_pooled);
        CHECK(near(study.people_by_coil, std::sqrt((32.0 - 0.02) / 2.0) * millimetre,
                   1e-9 * millimetre));
        CHECK(near(study.repeatability, std::sqrt(0.02) * millimetre, 1e-9 * millimetre));
        CHECK(study.people_differ == Length{});
        CHECK(study.coils_differ == Length{});
        CHECK(near(study.gauge, study.total, 1e-15 * metre));
    }

    TEST_CASE("the order of the readings does not count, and holes are named") {
        auto readings = ten_part_study();
        const auto gauge = gauge_study(readings).value().gauge;
        std::mt19937 random(1);
        std::ranges::shuffle(readings, random);
        CHECK(near(gauge_study(readings).value().gauge, gauge, 1e-14 * metre));
        std::ranges::sort(readings, {}, &GaugeReading<Length>::coil);
        readings.pop_back();
        const auto hole = gauge_study(readings);
        REQUIRE_FALSE(hole.has_value());
        CHECK(hole.error().sentence.find(" times") != std::string::npos);
        CHECK_FALSE(gauge_study(std::vector<GaugeReading<Mass>>{}).has_value());
        CHECK_FALSE(gauge_study(std::vector<GaugeReading<Mass>>{{"1", "A", grain}}).has_value());
        CHECK_FALSE(gauge_study(std::vector<GaugeReading<Mass>>{{"1", "A", grain},
                                                                {"1", "A", grain},
                                                                {"2", "B", grain},
                                                                {"2", "B", grain}})
                        .has_value());
    }
}
