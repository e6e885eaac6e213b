#include "quantity/print.h"

#include <doctest/doctest.h>

#include "quantity/parse.h"
#include "quantity/unit_set.h"
#include "quantity/units.h"

using namespace coilbook;

TEST_SUITE("Writing quantities") {
    // Rule: GUM (JCGM 100:2008), 7.2.6.
    TEST_CASE("the uncertainty has two figures and the value ends at the same place") {
        CHECK(with_uncertainty(11.2034, 0.0712) == "11.203 ± 0.071");
        CHECK(with_uncertainty(4.13, 0.31) == "4.13 ± 0.31");
        CHECK(with_uncertainty(10000.0, 123.0) == "10000 ± 123");
        CHECK(with_uncertainty(6.5, 0.0996) == "6.50 ± 0.10");
        CHECK(with_uncertainty(6.5, 0.0) == "6.500");
    }

    TEST_CASE("significant figures carry over the next power of ten") {
        CHECK(significant(0.94321, 3) == "0.943");
        CHECK(significant(9.9996, 4) == "10.00");
        CHECK(significant(12345.0, 3) == "12300");
        CHECK(significant(0.0, 3) == "0");
        CHECK(significant(-0.0149, 2) == "-0.015");
    }

    TEST_CASE("a quantity is printed with its unit") {
        CHECK(in_unit(22.4 * grain, {"gr", grain}) == "22.40 gr");
        CHECK(in_unit_with_uncertainty(11.2 * grain_per_foot, 0.07 * grain_per_foot,
                                       {"gr/ft", grain_per_foot}) == "11.200 ± 0.070 gr/ft");
    }
}

TEST_SUITE("The two sets of units") {
    // Hand sums: 11.2 gr/ft x 64.79891 mg / 0.3048 m = 2.381 g/m; 6.4 in/s x 2.54 = 16.26 cm/s;
    // 22.4 gr x 0.06479891 g = 1.4515 g; 24 in = 60.96 cm; 30 ft = 9.144 m.
    TEST_CASE("a worked example: one line in grains and feet, and in grams and metres") {
        const auto in_words = [](const Units& units) {
            return in_unit(11.2 * grain_per_foot, units.weight_per_length) + ", " +
                   in_unit(6.4 * inch_per_second, units.sink_rate) + ", " +
                   in_unit(22.4 * grain, units.weight) + ", " + in_unit(24.0 * inch, units.piece) +
                   ", " + in_unit(30.0 * foot, units.length) + ", " +
                   in_unit(0.942 * millimetre, units.diameter, 3) + ", " +
                   in_unit(3.41 * gram_per_cubic_centimetre, units.density, 3);
        };
        CHECK(in_words(grains_and_feet) ==
              "11.20 gr/ft, 6.400 in/s, 22.40 gr, 24.00 in, 30.00 ft, 0.942 mm, 3.41 g/cm³");
        CHECK(in_words(grams_and_metres) ==
              "2.381 g/m, 16.26 cm/s, 1.451 g, 60.96 cm, 9.144 m, 0.942 mm, 3.41 g/cm³");
    }

    TEST_CASE("whatever is shown can be typed, and means the same") {
        for (const Units& units : {grains_and_feet, grams_and_metres}) {
            CAPTURE(units.name);
            const auto shown = in_unit(11.2 * grain_per_foot, units.weight_per_length, 12);
            const auto read = parse_linear_density(shown).value().value;
            CHECK(read.in(grain_per_foot) == doctest::Approx(11.2).epsilon(1e-9));
            CHECK(parse_mass(in_unit(5.0 * grain, units.weight)).has_value());
            CHECK(parse_length(in_unit(2.0 * foot, units.piece)).has_value());
            CHECK(parse_length(in_unit(2.0 * foot, units.length)).has_value());
            CHECK(parse_length(in_unit(1.0 * millimetre, units.diameter)).has_value());
            CHECK(parse_speed(in_unit(1.0 * inch_per_second, units.sink_rate)).has_value());
            CHECK(parse_density(in_unit(gram_per_cubic_centimetre, units.density)).has_value());
        }
    }

    TEST_CASE("each is known by its name; any other word is grains and feet") {
        CHECK(units_named("grams and metres") == grams_and_metres);
        CHECK(units_named("grains and feet") == grains_and_feet);
        CHECK(units_named("furlongs") == grains_and_feet);
        CHECK(other_than(grains_and_feet) == grams_and_metres);
        CHECK(other_than(grams_and_metres) == grains_and_feet);
    }
}
