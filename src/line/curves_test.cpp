#include "line/curves.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;

namespace {

constexpr CurveSpan span{1.0 * grain_per_foot, 100.0 * grain_per_foot, 21};

}  // namespace

TEST_SUITE("Curves over weight per foot and diameter") {
    TEST_CASE("a worked example: 10 gr/ft of 1.87975 g/cm3 is 1.200 mm, 40 gr/ft twice as thick") {
        // check-values.md, section 1: 10 gr/ft of 1.200 mm has 1879.75 kg/m3; d goes as √λ.
        const auto lines = lines_of_density(1.87975 * gram_per_cubic_centimetre,
                                            {10.0 * grain_per_foot, 40.0 * grain_per_foot, 3});
        REQUIRE(lines.size() == 3);
        CHECK(near(lines[0].diameter, 1.200 * millimetre, 0.0001 * millimetre));
        CHECK(near(lines[2].diameter, 2.400 * millimetre, 0.0002 * millimetre));
        // Evenly in the logarithm: √(10 · 40) = 20 in the middle.
        CHECK(near(lines[1].weight_per_length, 20.0 * grain_per_foot, 1e-9 * grain_per_foot));
    }

    TEST_CASE("every line of a curve of equal sink rate sinks at that rate") {
        const auto water = fresh_water_at_10_C();
        for (const double rate : {1.0, 2.5, 4.0}) {
            CAPTURE(rate);
            const auto lines = lines_sinking_at(rate * inch_per_second, water, span);
            REQUIRE(lines.size() == 21);
            for (const auto& line : lines) {
                CHECK(near(sink(line, water).rate, rate * inch_per_second, 1e-8 * inch_per_second));
            }
        }
    }

    TEST_CASE("along equal sink rate the heavier is the thicker and the less dense") {
        const auto lines = lines_sinking_at(6.0 * inch_per_second, fresh_water_at_10_C(), span);
        for (std::size_t at = 1; at < lines.size(); ++at) {
            CHECK(lines[at].diameter > lines[at - 1].diameter);
            CHECK(density(lines[at]) < density(lines[at - 1]));
        }
    }

    TEST_CASE("a rate that no metal reaches at the light end shortens the curve") {
        const auto water = fresh_water_at_10_C();
        const auto lines = lines_sinking_at(20.0 * inch_per_second, water, span);
        CHECK(lines.size() < 21);
        for (const auto& line : lines) CHECK(density(line) <= densest_conceivable);
    }

    TEST_CASE("a rate of zero is the curve of the water's own density") {
        const auto water = fresh_water_at_10_C();
        const auto still = lines_sinking_at(Speed{}, water, span);
        const auto as_dense = lines_of_density(water.density, span);
        REQUIRE(still.size() == as_dense.size());
        for (std::size_t at = 0; at < still.size(); ++at) {
            CHECK(near(still[at].diameter, as_dense[at].diameter, 1e-6 * millimetre));
        }
    }
}
