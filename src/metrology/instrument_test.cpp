#include "metrology/instrument.h"

#include <doctest/doctest.h>

#include "metrology/measured.h"
#include "support/near.h"

using namespace coilbook;

TEST_SUITE("Instruments") {
    // By hand: 0.1/√12 = 0.028868 and 0.1/√3 = 0.057735 (GUM 4.3.7, F.2.2.1).
    TEST_CASE("a scale of 0.1 gr rounds by 0.029 gr and is calibrated to 0.058 gr") {
        const auto scale = scale_of(default_instruments(), "").value();
        CHECK(near(own_uncertainty(scale), 0.028868 * grain, 1e-6 * grain));
        CHECK(near(shared_uncertainty(scale), 0.057735 * grain, 1e-6 * grain));
    }

    TEST_CASE("repeatability and a found offset come on top") {
        Micrometer micrometer;
        micrometer.resolution = 0.001 * millimetre;
        micrometer.repeatability = 0.002 * millimetre;
        micrometer.offset_uncertainty = 0.003 * millimetre;
        CHECK(near(own_uncertainty(micrometer), 0.00202073 * millimetre, 1e-8 * millimetre));
        CHECK(near(shared_uncertainty(micrometer), 0.003 * millimetre, 1e-12 * millimetre));
    }

    TEST_CASE("an unknown instrument is refused and the known ones are named") {
        auto instruments = default_instruments();
        instruments.scales["S2"].code = "S2";
        const auto found = scale_of(instruments, "S9");
        REQUIRE_FALSE(found.has_value());
        CHECK(to_line(found.error()) == "scale: 'S9' is not a known scale; expected one of S2");
        CHECK(scale_of(instruments, "S2").has_value());
        CHECK_FALSE(tape_of(instruments, "S2").has_value());
    }

    TEST_CASE("independent parts add as squares: 3 and 4 make 5") {
        CHECK(near(root_sum_square(3.0 * grain, 4.0 * grain), 5.0 * grain, 1e-12 * grain));
    }
}
