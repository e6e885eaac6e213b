#include "quantity/print.h"

#include <doctest/doctest.h>

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
