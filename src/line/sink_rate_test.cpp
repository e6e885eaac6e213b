#include "line/sink_rate.h"

#include <doctest/doctest.h>

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "line/drag.h"
#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;

namespace {

// T lines are all of about this density (common practice, no published source).
constexpr Density t_line_density = 4.2 * gram_per_cubic_centimetre;

LineBody t_line(double grains_per_foot) {
    return line_of(grains_per_foot * grain_per_foot, t_line_density);
}

LineBody line_of_diameter(Length diameter, Density density) {
    return {.weight_per_length = std::numbers::pi / 4.0 * (density * diameter * diameter),
            .diameter = diameter};
}

Water fresh(double celsius) {
    return water_at(Temperature::from_celsius(celsius)).value();
}
Water sea(double celsius) {
    return water_at(Temperature::from_celsius(celsius), Salinity::from_practical(35.0).value())
        .value();
}

Speed rate(const LineBody& line, const Water& water = fresh_water_at_10_C()) {
    return sink(line, water).rate;
}

// The waters of the reference tables below: IAPWS-95 and R12-08 at 101.325 kPa.
constexpr Water water_at_20_C{.density = 998.207150 * kilogram_per_cubic_metre,
                              .viscosity = 1.001596143e-3 * pascal_second};
constexpr Water water_at_5_C{.density = 999.966634 * kilogram_per_cubic_metre,
                             .viscosity = 1.518172850e-3 * pascal_second};

double cheng(double reynolds) {
    return cylinder_drag(reynolds).coefficient;
}
// 1 + 10 Re^(-2/3), White; as quoted in public programs.
double white(double reynolds) {
    return 1.0 + 10.0 * std::pow(reynolds, -2.0 / 3.0);
}
// Sucker and Brauer 1975; the first two terms as quoted, the last two from memory.
double sucker_brauer(double reynolds) {
    return 1.18 + 6.8 / std::pow(reynolds, 0.89) + 1.96 / std::sqrt(reynolds) -
           4e-4 * reynolds / (1.0 + 3.64e-7 * reynolds * reynolds);
}

// The Reynolds number under any drag law, by bracketing: slow and safe, to check the fast way.
template <class Law>
double bracketed_reynolds(Law law, double best) {
    std::uintmax_t steps = 200;
    const auto [low, high] = boost::math::tools::toms748_solve(
        [&](double x) { return std::log(law(std::exp(x))) + 2.0 * x - std::log(best); },
        std::log(1e-20), std::log(1e9), boost::math::tools::eps_tolerance<double>(52), steps);
    return std::exp((low + high) / 2.0);
}

}  // namespace

TEST_SUITE("Sink rate") {
    // With a drag coefficient that is given, the balance of forces solves by hand:
    // v = sqrt(pi g d (rho/rho_w - 1) / (2 C_D)). For 1 mm, 2000 kg/m3 and water at 20 °C:
    // 2000 / 998.20715 - 1 = 1.0035921; pi x 9.80665 / 2 = 15.404250; x 0.001 x 1.0035921 =
    // 0.015459584; the root is 0.12433658 m/s for C_D = 1. The law gives C_D = 1.31302 at the Re of
    // 108.14 that comes out, and 0.12433658 / sqrt(1.31302) = 0.108508 m/s, or 4.272 in/s.
    TEST_CASE("a worked example: 1 mm of 2 g/cm3 in water at 20 °C") {
        const LineBody line = line_of_diameter(1.0 * millimetre, 2.0 * gram_per_cubic_centimetre);
        const Sinking sinking = sink(line, water_at_20_C);
        CHECK(near(sinking.rate * std::sqrt(sinking.drag_coefficient),
                   0.124336576 * metre_per_second, 1e-9 * metre_per_second));
        CHECK(near(sinking.drag_coefficient, 1.31302, 0.00001));
        CHECK(near(sinking.reynolds, 108.1413, 0.0001));
        CHECK(near(sinking.rate, 4.272 * inch_per_second, 0.0005 * inch_per_second));
    }

    // 10 ft of 100 gr: 10 gr/ft = 2.12594849 g/m; 4 x 0.00212594849 / (pi x 0.0012²) = 1879.75
    // kg/m3.
    TEST_CASE("a worked example: ten grains a foot at 1.2 mm are 1.88 g/cm3") {
        const LineBody line{.weight_per_length = 100.0 * grain / (10.0 * foot),
                            .diameter = 1.2 * millimetre};
        CHECK(near(density(line), 1879.75117 * kilogram_per_cubic_metre,
                   1e-5 * kilogram_per_cubic_metre));
        CHECK(near(line_of(line.weight_per_length, density(line)).diameter, 1.2 * millimetre,
                   1e-12 * millimetre));
    }

    // Source: the same balance and law solved with scipy to 1e-14 and printed to 1e-8 m/s.
    TEST_CASE("96 lines in two waters, as computed elsewhere") {
        constexpr double diameters_mm[] = {0.5, 0.8, 1.0, 1.25, 1.5, 2.0};
        struct Row {
            double density;   // kg/m3
            double rates[6];  // m/s, one for each diameter
        };
        constexpr Row at_20_C[] = {
            {1050, {0.00964054, 0.01578713, 0.01942593, 0.02350205, 0.02713777, 0.03339662}},
            {1100, {0.01543919, 0.02437835, 0.02948909, 0.03511260, 0.04006534, 0.04849957}},
            {1200, {0.02444262, 0.03719464, 0.04427278, 0.05195382, 0.05865502, 0.06999407}},
            {1500, {0.04380572, 0.06364312, 0.07433280, 0.08578659, 0.09571972, 0.11278265}},
            {2000, {0.06681027, 0.09405501, 0.10850847, 0.12395063, 0.13751084, 0.16191741}},
            {2500, {0.08488822, 0.11751916, 0.13472858, 0.15322836, 0.16981049, 0.20071896}},
            {3000, {0.10029377, 0.13731309, 0.15680945, 0.17798772, 0.19735027, 0.23424380}},
            {4000, {0.12633848, 0.17048838, 0.19385989, 0.21987152, 0.24438598, 0.29203136}}};
        constexpr Row at_5_C[] = {
            {1050, {0.00780601, 0.01335037, 0.01680007, 0.02077723, 0.02440274, 0.03076779}},
            {1100, {0.01290739, 0.02132834, 0.02636147, 0.03202903, 0.03710359, 0.04586871}},
            {1200, {0.02100670, 0.03344942, 0.04061694, 0.04853291, 0.05552271, 0.06745165}},
            {1500, {0.03891111, 0.05896935, 0.07007016, 0.08210059, 0.09258718, 0.11032820}},
            {2000, {0.06070484, 0.08879854, 0.10399600, 0.12030474, 0.13444795, 0.15860907}},
            {2500, {0.07808006, 0.11203027, 0.13020329, 0.14963128, 0.16651223, 0.19592905}},
            {3000, {0.09300914, 0.13172989, 0.15232624, 0.17432316, 0.19355002, 0.22776059}},
            {4000, {0.11844053, 0.16488507, 0.18941932, 0.21571176, 0.23908797, 0.28214875}}};
        const auto compare = [&](const Row& row, const Water& water) {
            for (int i = 0; i < 6; ++i) {
                CAPTURE(row.density);
                CAPTURE(diameters_mm[i]);
                const LineBody line = line_of_diameter(diameters_mm[i] * millimetre,
                                                       row.density * kilogram_per_cubic_metre);
                CHECK(near(rate(line, water), row.rates[i] * metre_per_second,
                           0.6e-8 * metre_per_second));
            }
        };
        for (const auto& row : at_20_C) compare(row, water_at_20_C);
        for (const auto& row : at_5_C) compare(row, water_at_5_C);
    }

    TEST_CASE("weight in water and drag balance") {
        const Water water = fresh_water_at_10_C();
        for (const double grams_per_cm3 : {0.3, 0.9, 0.99, 1.001, 1.05, 1.3, 2.0, 4.2, 10.0}) {
            for (const double mm : {0.2, 0.5, 1.0, 2.5}) {
                CAPTURE(grams_per_cm3);
                CAPTURE(mm);
                const LineBody line =
                    line_of_diameter(mm * millimetre, grams_per_cm3 * gram_per_cubic_centimetre);
                const Sinking sinking = sink(line, water);
                const Length d = line.diameter;
                const auto weight =
                    (line.weight_per_length - std::numbers::pi / 4.0 * (water.density * d * d)) *
                    standard_gravity;
                const auto drag = 0.5 * sinking.drag_coefficient *
                                  (water.density * d * sinking.rate * sinking.rate);
                CHECK(near(weight / drag, grams_per_cm3 > 1.0 ? 1.0 : -1.0, 1e-10));
                CHECK(
                    near(std::abs(sinking.rate * d / kinematic_viscosity(water)) / sinking.reynolds,
                         1.0, 1e-12));
            }
        }
    }

    TEST_CASE("the fast solver agrees with a bracketing one over 24 powers of ten") {
        for (double best = 1e-12; best < 1e12; best *= 1.7) {
            CAPTURE(best);
            CHECK(near(reynolds_for(best) / bracketed_reynolds(cheng, best), 1.0, 1e-13));
        }
        CHECK(reynolds_for(0.0) == 0.0);
        CHECK(reynolds_for(1e-300) > 0.0);
    }

    // Common practice, no published source: T-8 5 to 7 in/s, T-11 6 to 8, T-14 7 to 9.
    TEST_CASE("T lines sink as the trade says, in fresh water at 10 °C") {
        const struct {
            double grains_per_foot, slowest, fastest;  // in/s
        } rows[] = {{8, 5, 7}, {11, 6, 8}, {14, 7, 9}};
        for (const auto& row : rows) {
            CAPTURE(row.grains_per_foot);
            CHECK(rate(t_line(row.grains_per_foot)) > row.slowest * inch_per_second);
            CHECK(rate(t_line(row.grains_per_foot)) < row.fastest * inch_per_second);
        }
    }

    // Common practice says "about 10 in/s" of both; the program shows both numbers.
    TEST_CASE("T-17 and T-20 sink more slowly than people say") {
        CHECK(rate(t_line(17.0)) < 9.0 * inch_per_second);
        CHECK(rate(t_line(20.0)) < 9.5 * inch_per_second);
    }

    // Common practice, no published source: about 1.5 in/s and nearly neutral.
    TEST_CASE("an intermediate tip is nearly neutral") {
        const auto needed = density_that_sinks_at(1.5 * inch_per_second, 7.0 * grain_per_foot,
                                                  fresh_water_at_10_C());
        REQUIRE(needed);
        CHECK(*needed > 1.05 * gram_per_cubic_centimetre);
        CHECK(*needed < 1.25 * gram_per_cubic_centimetre);
    }

    TEST_CASE("at one diameter the heavier line sinks faster") {
        Speed before = rate(line_of_diameter(0.9 * millimetre, 0.5 * gram_per_cubic_centimetre));
        for (double heavier = 0.6; heavier < 8.0; heavier += 0.1) {
            const Speed now =
                rate(line_of_diameter(0.9 * millimetre, heavier * gram_per_cubic_centimetre));
            CHECK(now > before);
            before = now;
        }
    }

    TEST_CASE("at one density the thicker line sinks faster") {
        Speed before;
        for (double mm = 0.1; mm < 5.0; mm += 0.1) {
            const Speed now = rate(line_of_diameter(mm * millimetre, t_line_density));
            CHECK(now > before);
            before = now;
        }
    }

    TEST_CASE("at one weight a foot the denser line is thinner and sinks faster") {
        LineBody before = line_of(7.0 * grain_per_foot, 0.5 * gram_per_cubic_centimetre);
        for (double denser = 0.6; denser < 25.0; denser += 0.2) {
            const LineBody now = line_of(7.0 * grain_per_foot, denser * gram_per_cubic_centimetre);
            CHECK(now.diameter < before.diameter);
            CHECK(rate(now) > rate(before));
            before = now;
        }
    }

    TEST_CASE("a line sinks more slowly in salt water and in cold water") {
        for (const double grains_per_foot : {4.0, 8.0, 14.0}) {
            const LineBody line = t_line(grains_per_foot);
            CHECK(rate(line, sea(10.0)) < rate(line, fresh(10.0)));
            CHECK(rate(line, fresh(2.0)) < rate(line, fresh(20.0)));
        }
    }

    TEST_CASE(
        "a line between fresh and salt water in density sinks in one and rises in the other") {
        const LineBody line = line_of(6.0 * grain_per_foot, 1.01 * gram_per_cubic_centimetre);
        CHECK(rate(line, fresh(10.0)) > Speed{});
        CHECK(rate(line, sea(10.0)) < Speed{});
    }

    TEST_CASE("a line as dense as the water hangs still") {
        // The water is given the line's own density, to the last bit.
        const LineBody line{.weight_per_length = 1.0 * kilogram / metre, .diameter = 1.0 * metre};
        const Water its_own{.density = density(line), .viscosity = 0.001 * pascal_second};
        const Sinking sinking = sink(line, its_own);
        CHECK(sinking.rate == Speed{});
        CHECK(sinking.reynolds == 0.0);
        CHECK(std::isinf(sinking.drag_coefficient));
    }

    TEST_CASE("the density asked for sinks at the rate asked for") {
        const Water water = sea(6.0);
        for (const double inches_per_second : {0.01, 0.5, 1.5, 3.5, 6.5}) {
            for (const double grains_per_foot : {4.0, 7.0, 15.0}) {
                CAPTURE(inches_per_second);
                CAPTURE(grains_per_foot);
                const auto found = density_that_sinks_at(inches_per_second * inch_per_second,
                                                         grains_per_foot * grain_per_foot, water);
                REQUIRE(found);
                const Speed back = rate(line_of(grains_per_foot * grain_per_foot, *found), water);
                CHECK(near(back.in(inch_per_second) / inches_per_second, 1.0, 1e-10));
            }
        }
    }

    // By hand: 6 gr/ft is 1.275569 g/m. At 5.772 g/cm3 its diameter is sqrt(4 x 1.275569 / (pi x
    // 5.772)) = 0.53045 mm. At 6.5 in/s = 0.1651 m/s in water of 999.7 kg/m3 and 1.30629 mm²/s, Re
    // = 67.043 and, by the law, C_D = 0.46949 + 0.9 + 0.06152 = 1.43101. Drag: 0.5 x 999.7
    // x 1.43101 x 0.00053045 x 0.1651² = 0.010342 N/m. Weight in water: 0.001275569 x 9.80665 x (1
    // - 999.7/5772) = 0.010342 N/m.
    TEST_CASE("a worked example: a type 6 of 6 grains a foot would have to be of 5.77 g/cm3") {
        const auto needed = density_that_sinks_at(6.5 * inch_per_second, 6.0 * grain_per_foot,
                                                  fresh_water_at_10_C());
        REQUIRE(needed);
        CHECK(near(*needed, 5.772 * gram_per_cubic_centimetre, 0.003 * gram_per_cubic_centimetre));
    }

    TEST_CASE("no density makes a thin line sink at any rate, and none is needed to hang still") {
        const Water water = fresh_water_at_10_C();
        CHECK_FALSE(density_that_sinks_at(20.0 * inch_per_second, 4.0 * grain_per_foot, water));
        CHECK(density_that_sinks_at(Speed{}, 4.0 * grain_per_foot, water) == water.density);
        CHECK(near(*density_that_sinks_at(1e-30 * inch_per_second, 4.0 * grain_per_foot, water),
                   water.density, 1e-9 * kilogram_per_cubic_metre));

        // The very limit: the rate of the densest line there could be.
        const Speed limit = rate(line_of(4.0 * grain_per_foot, densest_conceivable));
        CHECK(density_that_sinks_at(limit * 0.999, 4.0 * grain_per_foot, water));
        CHECK_FALSE(density_that_sinks_at(limit * 1.001, 4.0 * grain_per_foot, water));
    }

    // C_D 1 % up moves the rate by 1 % / (2 + s) down, whatever the law: here all of C_D is raised.
    TEST_CASE("of an error of drag the sink rate gets a half to four fifths") {
        for (const double reynolds : {0.1, 3.0, 60.0, 150.0, 600.0, 7000.0}) {
            CAPTURE(reynolds);
            const double best = cheng(reynolds) * reynolds * reynolds;
            const auto raised = [](double re) { return 1.01 * cheng(re); };
            const double share =
                -std::log(bracketed_reynolds(raised, best) / reynolds) / std::log(1.01);
            CHECK(near(sink_rate_model_uncertainty(reynolds),
                       share * drag_relative_uncertainty(reynolds), 2e-4));
        }
        CHECK(near(sink_rate_model_uncertainty(0.0), 0.09 / 1.25, 1e-12));
    }

    TEST_CASE("other laws differ by 3 to 8 %, less than two standard uncertainties") {
        const Water water = fresh_water_at_10_C();
        double largest = 0.0;
        for (const double grams_per_cm3 : {1.2, 1.5, 2.0, 3.0, 4.2}) {
            for (const double grains_per_foot : {3.0, 5.0, 8.0, 11.0, 14.0, 20.0}) {
                CAPTURE(grams_per_cm3);
                CAPTURE(grains_per_foot);
                const LineBody line = line_of(grains_per_foot * grain_per_foot,
                                              grams_per_cm3 * gram_per_cubic_centimetre);
                const double best = best_number(line, water);
                const double ours = reynolds_for(best);
                for (const auto law : {white, sucker_brauer}) {
                    const double miss = std::abs(std::log(bracketed_reynolds(law, best) / ours));
                    CHECK(miss < 2.0 * sink_rate_model_uncertainty(ours));
                    largest = std::max(largest, miss);
                }
            }
        }
        CHECK(near(largest, 0.08, 0.005));
    }

    TEST_CASE("the table of Reynolds numbers is the solver to one part in a hundred million") {
        double worst = 0.0;
        double worst_slope = 0.0;
        for (double ln_best = -22.0; ln_best < 42.0; ln_best += 0.0137) {
            const auto table = ln_reynolds_for(ln_best);
            const double exact = std::log(reynolds_for(std::exp(ln_best)));
            worst = std::max(worst, std::abs(table.value - exact));
            const double slope =
                (ln_reynolds_for(ln_best + 1e-6).value - ln_reynolds_for(ln_best - 1e-6).value) /
                2e-6;
            worst_slope = std::max(worst_slope, std::abs(table.slope - slope));
        }
        CHECK(worst < 1e-8);
        CHECK(worst_slope < 1e-6);
    }
}
