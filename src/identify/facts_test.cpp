#include "identify/facts.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

Fit fit(const CoilReadings& readings) {
    return fit_facts(evidence_of(readings, default_instruments()).value(), fresh_water_at_10_C());
}

}  // namespace

TEST_SUITE("Facts") {
    // By hand: 10 ft of 100 gr are 10 gr/ft = 2.12594849 g/m; at 1.2 mm 4 λ/(π d²) is
    // 1.87975 g/cm3. Stated 0.5 gr, 0.01 ft, 0.005 mm: 0.5 %, 0.1 %, 2 x 0.41667 % make 0.97696 %
    // of the density, 0.018364 g/cm3 (no soft-coating part, as all of it is stated).
    TEST_CASE("a worked example: weight, length and diameter with stated uncertainties") {
        const auto facts = fit(a_coil()
                                   .sample("10 ft +- 0.01 ft", "100 gr +- 0.5 gr")
                                   .diameters("1.2 mm +- 0.005 mm"))
                               .facts;
        REQUIRE(facts.density.has_value());
        CHECK(near(facts.linear_density->value, 10.0 * grain_per_foot, 1e-4 * grain_per_foot));
        CHECK(near(facts.linear_density->uncertainty, 0.050990 * grain_per_foot,
                   1e-4 * grain_per_foot));
        CHECK(near(facts.density->value, 1879.75 * kilogram_per_cubic_metre,
                   0.05 * kilogram_per_cubic_metre));
        CHECK(near(facts.density->uncertainty, 18.364 * kilogram_per_cubic_metre,
                   0.01 * kilogram_per_cubic_metre));
        CHECK(near(facts.diameter->value, 1.2 * millimetre, 1e-5 * millimetre));
        // They share the sample, so they are wrong together: 0.0050990 / 0.0097696 = 0.5219.
        CHECK(near(facts.line->correlation, 0.5219, 0.001));
    }

    // Source: a density-kit manual's formula ρ = W ρ_w / (W − W_sub): 3.0 and 1.5 in water of
    // 0.9997 g/cm3 make 1.9994 g/cm3.
    TEST_CASE("weighing under water gives the density without a micrometer") {
        const auto facts =
            fit(a_coil().sample("10 ft", "30.0 gr").reads("submerged_weight", "15.0 gr")).facts;
        REQUIRE(facts.density.has_value());
        CHECK(near(facts.density->value, 1.9994 * gram_per_cubic_centimetre,
                   0.0005 * gram_per_cubic_centimetre));
        CHECK(facts.diameter.has_value());
    }

    TEST_CASE("what the readings do not determine stays empty") {
        const auto nothing = fit({}).facts;
        CHECK_FALSE(nothing.linear_density.has_value());
        CHECK_FALSE(nothing.sink_rate.has_value());
        const auto weighed = fit(a_coil().sample("24 in", "22.4 gr")).facts;
        CHECK(weighed.linear_density.has_value());
        CHECK_FALSE(weighed.density.has_value());
        CHECK_FALSE(weighed.diameter.has_value());
        CHECK_FALSE(weighed.sink_rate.has_value());
        const auto measured = fit(a_coil().diameters("0.85 mm")).facts;
        CHECK(measured.diameter.has_value());
        CHECK_FALSE(measured.linear_density.has_value());
    }

    TEST_CASE("a timed drop alone is the sink rate, and is not made worse by the drag law") {
        const auto facts =
            fit(a_coil().drop("100 in", "20 s").reads("water_temperature", "10 C")).facts;
        REQUIRE(facts.sink_rate.has_value());
        CHECK(near(facts.sink_rate->value, 5.0 * inch_per_second, 0.02 * inch_per_second));
        CHECK(facts.sink_rate->relative() < 0.015);  // 0.2 s of 20 s is 1 %
    }

    TEST_CASE("without a drop the sink rate carries the drag law's uncertainty") {
        const auto facts =
            fit(a_coil().sample("10 ft +- 0 ft", "110 gr +- 0 gr").diameters("0.842 mm +- 0 mm"))
                .facts;
        REQUIRE(facts.sink_rate.has_value());
        CHECK(near(facts.sink_rate->value, 7.03 * inch_per_second, 0.02 * inch_per_second));
        CHECK(near(facts.sink_rate->relative(), 0.034, 0.002));
    }

    TEST_CASE("a line lighter than water rises: its sink rate is negative") {
        const auto facts = fit(a_coil().sample("10 ft", "75 gr").diameters("1.5 mm 1.5 mm")).facts;
        REQUIRE(facts.sink_rate.has_value());
        CHECK(facts.sink_rate->value < Speed{});
    }

    TEST_CASE("readings that agree have a chi-square near their surplus") {
        const auto agree = fit(a_coil().sample("24 in", "22.4 gr").whole("10 ft", "112.1 gr"));
        CHECK(agree.surplus == 1);
        CHECK(agree.chi_square < 4.0);
        const auto disagree = fit(a_coil().sample("24 in", "22.4 gr").whole("10 ft", "140 gr"));
        CHECK(disagree.chi_square > 100.0);
        CHECK(disagree.contradictory);
    }

    TEST_CASE("where readings contradict each other the uncertainty covers both") {
        // 11.2 and 14 gr/ft: half their distance is 1.4.
        const auto facts = fit(a_coil().sample("24 in", "22.4 gr").whole("10 ft", "140 gr")).facts;
        CHECK(facts.linear_density->uncertainty > 0.3 * grain_per_foot);
        const double from_sample = (facts.linear_density->value - 11.2 * grain_per_foot) /
                                   facts.linear_density->uncertainty;
        CHECK(std::abs(from_sample) < 10.0);
    }
}
