#include "metrology/repeats.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace coilbook;

namespace {

Repeats<Mass> read(const Scale& scale, const std::vector<double>& grains) {
    std::vector<Mass> readings;
    for (const double each : grains) readings.push_back(each * grain);
    return repeats_of<Mass>(scale, readings);
}

}  // namespace

TEST_SUITE("One thing read again and again") {
    // 100.3 100.2 100.3 100.2: mean 100.25, squares 4 · 0.05² = 0.01, s = √(0.01 / 3) = 0.0577350.
    TEST_CASE("the mean and the standard deviation of one reading") {
        Scale scale;
        scale.resolution = 0.1 * grain;
        const auto found = read(scale, {100.3, 100.2, 100.3, 100.2});
        CHECK(near(found.mean, 100.25 * grain, 1e-9 * grain));
        CHECK(near(found.scatter.value(), 0.0577350 * grain, 1e-7 * grain));
        CHECK(found.is_odd == std::vector<bool>(4, false));
        CHECK_FALSE(read(scale, {100.3}).scatter.has_value());
    }

    // Median 100.2, distances 0.1 0 0 0.1 8.8: their median is 0.1, so 3.5 · 0.1 / 0.6745 = 0.52.
    TEST_CASE("a slip is marked, and it alone") {
        Scale scale;
        scale.resolution = 0.1 * grain;
        const auto found = read(scale, {100.3, 100.2, 100.2, 100.1, 109.0});
        CHECK(found.is_odd == std::vector<bool>{false, false, false, false, true});
    }

    TEST_CASE("three steps of the display are no slip, four are") {
        Scale scale;
        scale.resolution = 0.1 * grain;
        CHECK_FALSE(read(scale, {100.2, 100.2, 100.2, 100.2, 100.5}).is_odd.back());
        CHECK(read(scale, {100.2, 100.2, 100.2, 100.2, 100.6}).is_odd.back());
        scale.repeatability = 0.2 * grain;  // 3.5 of these are 0.7
        CHECK_FALSE(read(scale, {100.2, 100.2, 100.2, 100.2, 100.6}).is_odd.back());
    }

    TEST_CASE("of three readings nobody can say which one is odd") {
        CHECK_FALSE(read({}, {100.2, 100.2, 109.0}).is_odd.back());
    }
}
