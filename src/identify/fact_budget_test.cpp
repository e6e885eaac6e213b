#include "identify/fact_budget.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "identify/evidence.h"
#include "identify/facts.h"
#include "support/a_coil.h"

using namespace coilbook;

namespace {

FactBudgets budgets(const CoilReadings& readings) {
    return budgets_of(readings, default_instruments(), fresh_water_at_10_C()).value();
}

double share_of(const FactBudget& budget, ErrorOrigin origin) {
    for (const auto& part : budget.parts) {
        if (part.origin == origin) return part.share;
    }
    return 0.0;
}

double sum_of(const FactBudget& budget) {
    double sum = 0.0;
    for (const auto& part : budget.parts) sum += part.share;
    return sum;
}

const CoilReadings measured = a_coil().sample("24 in", "22.4 gr").diameters("0.85 mm");

}  // namespace

TEST_SUITE("Where an uncertainty comes from") {
    TEST_CASE("a worked example: 22.4 grains over 24 inches") {
        // By hand, as in the README: scale (0.1²/12 + 0.1²/3) = 0.00417 gr², /22.4² = 8.3e-6; tape
        // ((1/16)²/12 + (1/32)²/3) = 6.5e-4 in², /24² = 1.13e-6. Together 9.4e-6, of which the
        // scale has 88 %.
        const auto weight = budgets(measured).linear_density;
        CHECK(std::abs(share_of(weight, ErrorOrigin::scale) - 0.880) < 0.002);
        CHECK(std::abs(share_of(weight, ErrorOrigin::tape) - 0.120) < 0.002);
        CHECK(weight.parts.front().origin == ErrorOrigin::scale);
        CHECK(weight.rests_on ==
              std::vector{ReadingField::sample_length, ReadingField::sample_weight});
    }

    TEST_CASE("a worked example: the density is mostly as uncertain as the squeezed coating") {
        // Diameter: coating 0.010 mm, limit 0.004 / √3 = 0.0023 mm, step 0.001 / √12 = 0.0003 mm;
        // the coating has 0.010² / (0.010² + 0.0023² + 0.0003²) = 94.9 %. In the density the
        // diameter counts twice, so weight and length have 9.4e-6 / (4 · 1.46e-4) = 1.6 %.
        const auto all = budgets(measured);
        CHECK(std::abs(share_of(all.diameter, ErrorOrigin::soft_coating) - 0.949) < 0.002);
        CHECK(std::abs(share_of(all.density, ErrorOrigin::soft_coating) - 0.934) < 0.003);
        CHECK(std::abs(share_of(all.density, ErrorOrigin::scale) - 0.014) < 0.002);
        CHECK(all.diameter.rests_on == std::vector{ReadingField::diameters});
        CHECK(all.density.rests_on == std::vector{ReadingField::sample_length,
                                                  ReadingField::sample_weight,
                                                  ReadingField::diameters});
    }

    TEST_CASE("the sink rate has the drag law's uncertainty, and a timed drop takes much of it") {
        const auto without = budgets(measured).sink_rate;
        CHECK(share_of(without, ErrorOrigin::drag_law) > 0.8);
        const auto with = budgets(
            a_coil().sample("24 in", "22.4 gr").diameters("0.85 mm").drop("36 in", "5.1 s"));
        // By hand, in per cent: the watch 0.2 s / 5.1 s = 3.92, the temperature that nobody read 5
        // K times 0.3 = 1.5, together the drop D = 17.6; foretold by the drag law 3.4 and by weight
        // and diameter 0.9, together P = 12.4. By their certainty the foretold rate counts D / (D +
        // P) = 0.59 and the drop 0.41; of 0.59² 3.4² + 0.59² 0.9² + 0.41² 3.92² + 0.41² 1.5² = 4.0
        // + 0.3 + 2.6 + 0.4 = 7.3 the drag law has 55 %, the watch 36 %, the water 5 %.
        CHECK(std::abs(share_of(with.sink_rate, ErrorOrigin::drag_law) - 0.55) < 0.02);
        CHECK(std::abs(share_of(with.sink_rate, ErrorOrigin::stopwatch) - 0.36) < 0.02);
        CHECK(std::abs(share_of(with.sink_rate, ErrorOrigin::thermometer) - 0.05) < 0.02);
        CHECK(std::ranges::count(with.sink_rate.rests_on, ReadingField::sink_time) == 1);
    }

    TEST_CASE("an uncertainty that somebody stated is their word, not the instrument's") {
        const auto weight =
            budgets(a_coil().sample("24 in", "22.4 gr +- 0.5 gr").diameters("0.85 mm"))
                .linear_density;
        CHECK(share_of(weight, ErrorOrigin::own_word) > 0.99);
        CHECK(share_of(weight, ErrorOrigin::scale) == 0.0);
    }

    TEST_CASE("a piece of a tapered coil is uncertain by its taper") {
        CoilReadings tapered = measured;
        tapered.taper = Taper::tapered;
        CHECK(budgets(tapered).linear_density.parts.front().origin == ErrorOrigin::taper);
    }

    TEST_CASE("what is not determined has no budget, and an unknown instrument is told") {
        const auto all = budgets(a_coil().sample("24 in", "22.4 gr"));
        CHECK(all.density.parts.empty());
        CHECK(all.density.rests_on.empty());
        CHECK(all.sink_rate.parts.empty());
        CHECK_FALSE(all.linear_density.parts.empty());
        CoilReadings strange = measured;
        strange.scale = "nobody's";
        CHECK_FALSE(budgets_of(strange, default_instruments(), fresh_water_at_10_C()).has_value());
    }

    // The parts are worked out one by one; that they make up the variance that least squares gives
    // for all readings together is no matter of course.
    TEST_CASE("whatever was read, the parts are the whole uncertainty") {
        std::mt19937 chance(5);
        std::uniform_real_distribution<double> even(0.0, 1.0);
        for (int life = 0; life < 60; ++life) {
            CAPTURE(life);
            const double grains = 4.0 + 16.0 * even(chance), density = 1.3 + 3.0 * even(chance);
            const LineBody line = line_at({std::log(grains), std::log(density)});
            const double feet = 1.0 + 3.0 * even(chance);
            CoilReadings readings;
            readings.sample_length = Stated<Length>{feet * foot, {}};
            readings.sample_weight = Stated<Mass>{grains * feet * grain, {}};
            readings.diameters = {{line.diameter, {}}, {line.diameter, {}}};
            if (life % 2 == 1) {
                readings.submerged_weight =
                    Stated<Mass>{grains * feet * (1.0 - 1.0 / density) * grain, {}};
            }
            if (life % 3 == 1) {
                readings.sink_distance = Stated<Length>{3.0 * foot, {}};
                readings.sink_time =
                    Stated<Duration>{3.0 * foot / sink(line, fresh_water_at_10_C()).rate, {}};
            }
            if (life % 5 == 1) {
                readings.whole_length = Stated<Length>{15.0 * foot, {}};
                readings.whole_weight = Stated<Mass>{15.0 * grains * grain, {}};
            }
            const auto all = budgets(readings);
            for (const auto* budget : {&all.linear_density, &all.diameter, &all.density}) {
                CHECK(std::abs(sum_of(*budget) - 1.0) < 0.01);
                // Without a drop nothing of these is the drag law's.
                if (!readings.sink_time) CHECK(share_of(*budget, ErrorOrigin::drag_law) == 0.0);
            }
            CHECK(std::abs(sum_of(all.sink_rate) - 1.0) < 0.01);
            CHECK(share_of(all.sink_rate, ErrorOrigin::drag_law) > 0.0);
        }
    }
}
