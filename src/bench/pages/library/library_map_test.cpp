#include "bench/pages/library/library_map.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "bench/pages/library/a_library.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::library_page;

namespace {

const PlotCurve& curve_named(const PlotView& map, const std::string& name) {
    const auto found = std::ranges::find(map.curves, name, &PlotCurve::name);
    REQUIRE(found != map.curves.end());
    return *found;
}

}  // namespace

TEST_SUITE("The map of the library") {
    TEST_CASE("holds every class and every coil, but not what is unlisted") {
        const auto situation = a_situation();
        const auto ellipses = ellipses_of(situation.classes, {0, 1, 2, 3, 4}, "");
        CHECK(ellipses.size() == 5);
        for (const auto& each : ellipses) {
            CHECK(situation.ground.x.share(each.x) > 0);
            CHECK(situation.ground.x.share(each.x) < 1);
            CHECK(situation.ground.y.share(each.y) > 0);
            CHECK(situation.ground.y.share(each.y) < 1);
        }
        REQUIRE(situation.ground.points.size() == 2);
        for (const auto& each : situation.ground.points) {
            CHECK(situation.ground.y.share(each.y) > 0);
            says(each.readout, "confirmed as T-11");
        }
    }

    TEST_CASE("a worked example: along 4 g/cm3 a line of 10 gr/ft is 0.823 mm thick") {
        // d = sqrt(4 x 2.12595 g/m / (pi x 4 g/cm3)) = sqrt(0.67670) mm = 0.82262 mm.
        const auto situation = a_situation();
        const auto& curve = curve_named(situation.ground, "4 g/cm³");
        const auto above =
            std::ranges::find_if(curve.points, [](const PlotXy& each) { return each.y >= 10.0; });
        REQUIRE(above != curve.points.end());
        // d goes as the root of the weight.
        CHECK(near(above->x / std::sqrt(above->y / 10.0), 0.82262, 1e-5));
    }

    TEST_CASE("lines of equal density and of equal sink rate are told apart by their stroke") {
        const auto situation = a_situation();
        const auto& map = situation.ground;
        CHECK(curve_named(map, "4 g/cm³").stroke != curve_named(map, "6 in/s").stroke);
        CHECK(curve_named(map, "3.5 g/cm³").up_to_span < 10.0);  // only from close by
        says(curve_named(map, "6 in/s").readout, "sink at 6 in/s");
    }

    TEST_CASE("the chosen class comes first and strongest, and shows where it was before") {
        const auto situation = a_situation();
        const auto ellipses = ellipses_of(situation.classes, {0, 1}, "T-11");
        CHECK(ellipses[0].key == "T-11");
        CHECK(ellipses[0].emphasis == Emphasis::chosen);
        CHECK(ellipses[1].is_faint());
        CHECK(near(ellipses[1].y, 11.0, 1e-9));
        CHECK(near(ellipses[0].y, 11.55, 1e-9));
        CHECK(ellipses[1].stroke != ellipses[0].stroke);
        CHECK(ellipses[2].emphasis == Emphasis::light);  // T-8, which the filter lets through
        CHECK(ellipses[3].is_faint());                   // the tip, which it does not
    }

    TEST_CASE("a coil that was set aside has a sign of its own, and the legend says which") {
        const auto situation = a_situation();
        const auto& map = situation.ground;
        const auto wrong = std::ranges::find(map.points, Mark::warning, &PlotPoint::mark);
        REQUIRE(wrong != map.points.end());
        CHECK_FALSE(wrong->is_light);
        says(wrong->readout, "fits T-8");
        CHECK(std::ranges::any_of(
            map.legend, [](const PlotLegend& each) { return each.mark == Mark::warning; }));
    }

    TEST_CASE("zoomed to a class it stands in the middle with its surroundings") {
        const auto situation = a_situation();
        const auto window = close_up_of(situation.classes[1]);
        REQUIRE(window.has_value());
        CHECK(near(window->y.share(11.3), 0.5, 0.1));
        CHECK(window->y.high / window->y.low < 2.0);
        CHECK_FALSE(close_up_of(situation.classes[5]).has_value());
    }
}
