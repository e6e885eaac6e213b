#include "metrology/calibration.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <utility>

#include "support/near.h"

using namespace coilbook;

namespace {

constexpr double known = std::numeric_limits<double>::infinity();

Scale a_scale() {
    Scale scale;
    scale.resolution = 0.1 * grain;
    scale.limit_of_error = 0.1 * grain;
    scale.repeatability = 0.05 * grain;
    return scale;
}

StandardCheck<Mass> weight(double stated, double u, std::vector<double> readings) {
    StandardCheck<Mass> check{stated * grain, u * grain, {}};
    for (const double reading : readings) check.readings.push_back(reading * grain);
    return check;
}

Calibration<Mass> calibrated(const std::vector<StandardCheck<Mass>>& checks) {
    return calibrate<Mass>(a_scale(), checks);
}

}  // namespace

TEST_SUITE("Checking instruments") {
    // GUM (JCGM 100:2008), annex H.1, end gauge: the difference's parts 5.8, 3.9 and 6.7 nm with
    // 24, 5 and 8 degrees of freedom make 9.7 nm with 25.6; all parts make 32 nm with 16. More
    // digits computed from the same figures.
    TEST_CASE("degrees of freedom combine as in the GUM's end gauge") {
        const std::array difference{UncertaintyPart{5.8, 24}, UncertaintyPart{3.9, 5},
                                    UncertaintyPart{6.7, 8}};
        const double of_difference = effective_degrees_of_freedom(difference);
        CHECK(near(of_difference, 25.447, 5e-4));
        const std::array all{UncertaintyPart{25.0, 18}, UncertaintyPart{9.68194, of_difference},
                             UncertaintyPart{2.88679, 50}, UncertaintyPart{16.599, 2}};
        CHECK(near(effective_degrees_of_freedom(all), 16.752, 5e-4));
        const std::array simply_known{UncertaintyPart{1.0, known}};
        CHECK(effective_degrees_of_freedom(simply_known) == known);
        // u 0.57 with 9 and 0.25 with infinitely many give 12.8 (a public metrology test suite).
        const std::array two{UncertaintyPart{0.57, 9}, UncertaintyPart{0.25, known}};
        CHECK(near(effective_degrees_of_freedom(two), 12.8, 0.05));
    }

    // NIST StRD, univariate, Mavro: 50 readings of one filter, certified mean 2.00185600000000 and
    // standard deviation 0.000429123454003053. As readings of an exact standard of 2:
    // offset 0.001856, u = s/√50 = 6.06872e-5, t.975(49) = 2.00958.
    TEST_CASE("fifty readings of an exact standard have NIST's mean and standard deviation") {
        const std::vector<double> readings{
            2.00180, 2.00170, 2.00180, 2.00190, 2.00180, 2.00170, 2.00150, 2.00140, 2.00150,
            2.00150, 2.00170, 2.00180, 2.00180, 2.00190, 2.00190, 2.00210, 2.00200, 2.00160,
            2.00140, 2.00130, 2.00130, 2.00150, 2.00150, 2.00160, 2.00150, 2.00140, 2.00130,
            2.00140, 2.00150, 2.00140, 2.00150, 2.00160, 2.00150, 2.00160, 2.00190, 2.00200,
            2.00200, 2.00210, 2.00220, 2.00230, 2.00240, 2.00250, 2.00270, 2.00260, 2.00260,
            2.00260, 2.00270, 2.00260, 2.00250, 2.00240};
        Scale scale;
        const std::vector checks{weight(2.0, 0.0, readings)};
        const auto found = calibrate<Mass>(scale, checks);
        CHECK(near(found.offset, 0.001856 * grain, 1e-12 * grain));
        CHECK(near(found.repeatability.value(), 0.000429123454003053 * grain, 1e-13 * grain));
        CHECK(near(found.offset_uncertainty, 6.06872e-5 * grain, 1e-10 * grain));
        CHECK(near(found.degrees_of_freedom, 49.0, 1e-6));
        CHECK(near(found.offset_95, 2.00958 * 6.06872e-5 * grain, 1e-9 * grain));
        CHECK(found.readings == 50);
        CHECK(found.chance == 1.0);
        CHECK_FALSE(found.stretch.has_value());
    }

    // NIST StRD, linear regression, Norris: readings of an ozone monitor against 36 standards.
    // Certified: intercept −0.262323073774029 (0.232818234301152), slope 1.00211681802045
    // (0.429796848199937e-3), residual mean square 0.782864662630069. With one reading each and
    // standards of u = 1 the line is the same; its uncertainties are the certified ones over the
    // root of that mean square.
    TEST_CASE("a stretched scale is told from a shifted one: NIST's ozone monitor") {
        const std::array<std::pair<double, double>, 36> monitor{
            {{0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},
             {228.1, 226.5}, {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0},
             {559.2, 558.2}, {0.3, 0.4},     {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9},
             {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},   {557.7, 556.0}, {228.3, 228.1},
             {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},     {0.6, 0.3},
             {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
             {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9},
             {0.2, 0.5}}};
        Scale scale;
        std::vector<StandardCheck<Mass>> checks;
        for (const auto& [shown, standard] : monitor)
            checks.push_back(weight(standard, 1.0, {shown}));
        const auto found = calibrate<Mass>(scale, checks);
        const double root = std::sqrt(0.782864662630069);
        REQUIRE(found.stretch.has_value());
        CHECK(near(found.stretch->part, 0.00211681802045, 1e-12));
        CHECK(near(found.stretch->part_uncertainty, 0.429796848199937e-3 / root, 1e-12));
        CHECK(near(found.stretch->offset_at_zero, -0.262323073774029 * grain, 1e-10 * grain));
        CHECK(near(found.stretch->offset_at_zero_uncertainty, 0.232818234301152 / root * grain,
                   1e-10 * grain));
        CHECK_FALSE(found.repeatability.has_value());
        CHECK(found.degrees_of_freedom == known);
        // With standards ten times better one offset would not do at all.
        for (auto& check : checks) check.stated_uncertainty = 0.1 * grain;
        CHECK(calibrate<Mass>(scale, checks).chance < 1e-6);
    }

    // By hand: deviations 0.3 0.1 0.2 of 100 gr and 0.1 0.3 of 200 gr, each mean 0.2; pooled
    // s² = (0.02 + 0.02)/(2 + 1), s = 0.115470. Rounding 0.1/√12 = 0.0288675, standards 0.02:
    // u1² = 0.0044444 + 0.00083333 + 0.0004 = 0.0056778, u2² = 0.0066667 +
    // 0.00083333 + 0.0004 = 0.0079; u = (1/0.0056778 + 1/0.0079)^−½ = 0.0574762.
    TEST_CASE("two check weights: scatter averages out, the weights' own uncertainty does not") {
        const auto found = calibrated(
            {weight(100.0, 0.02, {100.3, 100.1, 100.2}), weight(200.0, 0.02, {200.1, 200.3})});
        CHECK(near(found.offset, 0.2 * grain, 1e-9 * grain));
        CHECK(near(found.repeatability.value(), 0.115470 * grain, 1e-6 * grain));
        CHECK(near(found.offset_uncertainty, 0.0574762 * grain, 1e-7 * grain));
        CHECK(near(found.chi_square, 0.0, 1e-12));
        CHECK(found.one_offset_fits());
        // A thousand readings leave the weight's 0.02 and the rounding, √(0.02² + 0.0288675²).
        std::vector<double> many;
        for (int i = 0; i < 1000; ++i) many.push_back(100.2 + (i % 2 == 0 ? 0.1 : -0.1));
        CHECK(near(calibrated({weight(100.0, 0.02, many)}).offset_uncertainty, 0.035264 * grain,
                   2e-4 * grain));
    }

    TEST_CASE("the stated uncertainty of an offset is how far it is off, over many checks") {
        std::mt19937_64 random(3);
        std::normal_distribution<double> normal;
        double squares = 0.0;
        int inside = 0;
        int fits = 0;
        constexpr int checks = 2000;
        for (int i = 0; i < checks; ++i) {
            std::vector<StandardCheck<Mass>> standards;
            for (const double stated : {50.0, 100.0, 200.0}) {
                auto standard = weight(stated, 0.03, {});
                const double truly = stated + 0.03 * normal(random);
                for (int k = 0; k < 4; ++k) {
                    standard.readings.push_back((truly + 0.25 + 0.08 * normal(random)) * grain);
                }
                standards.push_back(standard);
            }
            Scale scale;
            const auto found = calibrate<Mass>(scale, standards);
            const double off = (found.offset - 0.25 * grain) / found.offset_uncertainty;
            squares += off * off;
            inside += std::abs((found.offset - 0.25 * grain) / found.offset_95) < 1.0 ? 1 : 0;
            fits += found.one_offset_fits() ? 1 : 0;
        }
        CHECK(near(squares / checks, 1.05, 0.12));
        CHECK(near(inside / double{checks}, 0.95, 0.015));
        CHECK(near(fits / double{checks}, 0.95, 0.025));
    }

    TEST_CASE("a checked instrument takes over what was found, and no more") {
        const auto one = checked(a_scale(), calibrated({weight(100.0, 0.02, {100.3, 100.1})}));
        CHECK(near(one.offset, 0.2 * grain, 1e-9 * grain));
        CHECK(one.limit_of_error == 0.1 * grain);  // of other weights nothing is known
        CHECK(one.repeatability == 0.05 * grain);  // two readings do not say how they scatter
        const auto two = checked(a_scale(), calibrated({weight(100.0, 0.02, {100.3, 100.1, 100.2}),
                                                        weight(200.0, 0.02, {200.1, 200.3})}));
        CHECK(two.limit_of_error == Mass{});
        CHECK(near(two.repeatability, 0.115470 * grain, 1e-6 * grain));
        // 0.2 too much of 100, 0.4 of 200: the offset is widened to cover both, the limit stays.
        const auto found = calibrated(
            {weight(100.0, 0.01, {100.2, 100.2, 100.2}), weight(300.0, 0.01, {300.6, 300.6})});
        CHECK_FALSE(found.one_offset_fits());
        const auto stretched = checked(a_scale(), found);
        CHECK(stretched.limit_of_error == 0.1 * grain);
        CHECK(stretched.offset_uncertainty > 0.15 * grain);
        CHECK(near(found.stretch->part, 0.002, 1e-9));
    }

    TEST_CASE("a check runs out after its interval") {
        const auto then = instant_from_text("2026-01-01T00:00:00Z").value();
        const auto day = std::chrono::days{1};
        CHECK_FALSE(has_run_out(then, then + 365 * day, usual_check_interval));
        CHECK(has_run_out(then, then + 366 * day, usual_check_interval));
    }
}

TEST_SUITE("The squeeze on soft coatings") {
    // Coils of 0.7 to 1.2 mm that a micrometer squeezes by 0.015 mm, more or less by 0.004 mm from
    // coil to coil.
    TEST_CASE("the offset on coatings and its spread are found from coils of known diameter") {
        std::mt19937_64 random(4);
        std::normal_distribution<double> normal;
        double offsets = 0.0;
        double squares = 0.0;
        double spreads = 0.0;
        constexpr int times = 400;
        for (int i = 0; i < times; ++i) {
            std::vector<CoatingCheck> coils;
            for (int k = 0; k < 12; ++k) {
                const double truly = 0.7 + 0.04 * k;
                const double known_as = truly + 0.006 * normal(random);
                const double shown =
                    truly - 0.015 + 0.004 * normal(random) + 0.002 * normal(random);
                coils.push_back({{known_as * millimetre, 0.006 * millimetre},
                                 {shown * millimetre, 0.002 * millimetre}});
            }
            const auto found = coating_offset(coils);
            offsets += found.offset.in(millimetre) / times;
            squares +=
                std::pow((found.offset + 0.015 * millimetre) / found.offset_uncertainty, 2) / times;
            spreads += found.spread.in(millimetre) / times;
            CHECK(found.coils == 12);
        }
        CHECK(near(offsets, -0.015, 0.0004));
        // The default spread, which counts like two coils, keeps it on the safe side.
        CHECK(squares < 1.0);
        CHECK(squares > 0.5);
        CHECK(spreads > 0.004);
        CHECK(spreads < 0.0075);
    }

    TEST_CASE("a micrometer for coatings has this offset in place of its limit of error") {
        Micrometer micrometer;
        micrometer.limit_of_error = 0.004 * millimetre;
        CHECK(micrometer.coating_uncertainty == soft_coating_uncertainty);
        const auto after = on_coatings(
            micrometer, {-0.015 * millimetre, 0.002 * millimetre, 0.005 * millimetre, 12});
        CHECK(after.offset == -0.015 * millimetre);
        CHECK(after.offset_uncertainty == 0.002 * millimetre);
        CHECK(after.limit_of_error == Length{});
        CHECK(after.coating_uncertainty == 0.005 * millimetre);
    }
}
