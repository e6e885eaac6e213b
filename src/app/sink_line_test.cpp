#include "app/sink_line.h"

#include <doctest/doctest.h>

#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

double number_in(const Cell& cell) {
    REQUIRE(std::holds_alternative<double>(cell));
    return std::get<double>(cell);
}

}  // namespace

TEST_SUITE("A line that sinks, as a row") {
    TEST_CASE("a T-11 of 0.835 mm") {
        // 11 gr/ft = 2.33853 g/m; π/4 (0.835 mm)² = 0.547599 mm²; density 4.2705 g/cm3.
        // The trade says 6 to 8 in/s for T-11 (common practice, no published source).
        const auto cells =
            sink_cells({11.0 * grain_per_foot, 0.835 * millimetre}, fresh_water_at_10_C());
        REQUIRE(cells.size() == sink_columns().size());
        CHECK(near(number_in(cells[0]), 11.0, 1e-12));
        CHECK(near(number_in(cells[1]), 0.835, 1e-12));
        CHECK(near(number_in(cells[2]), 4.2705, 1e-3));
        const double rate = number_in(cells[5]);
        CHECK(rate > 6.0);
        CHECK(rate < 8.0);
        CHECK(near(number_in(cells[6]), rate * 0.0254, 1e-12));
    }

    TEST_CASE("a line lighter than water rises") {
        const auto cells =
            sink_cells({6.0 * grain_per_foot, 1.4 * millimetre}, fresh_water_at_10_C());
        CHECK(number_in(cells[5]) < 0.0);
        CHECK(number_in(cells[3]) > 0.0);
    }
}
