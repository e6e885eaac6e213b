#include "quantity/quantity.h"

#include <doctest/doctest.h>

#include <concepts>
#include <type_traits>

#include "quantity/temperature.h"
#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;

namespace {

template <class A, class B>
concept Addable = requires(A a, B b) {
    a + b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
    a < b;
};

static_assert(Addable<Mass, Mass>);
static_assert(!Addable<Mass, Length>);
static_assert(!Addable<Mass, LinearDensity>);
static_assert(!Addable<Temperature, Temperature>);
static_assert(!Comparable<Speed, Length>);
static_assert(!std::is_convertible_v<double, Mass>);
static_assert(!std::is_constructible_v<Mass, double>);
static_assert(!std::is_convertible_v<Mass, double>);
static_assert(std::same_as<decltype(Mass{} / Length{}), LinearDensity>);
static_assert(std::same_as<decltype(Mass{} / Mass{}), double>);
static_assert(std::same_as<decltype(Length{} / Duration{}), Speed>);

}  // namespace

TEST_SUITE("Quantities and units") {
    // Source: NIST SP 811 (2008), appendix B.8; exact.
    TEST_CASE("a grain is 64.79891 mg and a foot is 0.3048 m, exactly") {
        CHECK(grain.in(milligram) == doctest::Approx(64.79891).epsilon(1e-15));
        CHECK(foot.si() == 0.3048);
        CHECK((12.0 * inch).si() == doctest::Approx(foot.si()).epsilon(1e-15));
        CHECK(yard.in(foot) == doctest::Approx(3.0).epsilon(1e-15));
    }

    // Source: NIST Handbook 44, appendix C: 1 lb = 7000 gr = 453.59237 g; 1 oz = 437.5 gr.
    TEST_CASE("seven thousand grains are a pound of 453.59237 g") {
        CHECK(near(pound, 453.59237 * gram, 1e-12 * gram));
        CHECK(ounce.in(gram) == doctest::Approx(28.349523125).epsilon(1e-14));
    }

    // Source: closed form from the two exact factors; the same with GNU units 2.22.
    TEST_CASE("a grain per foot is 0.212594849081364 g/m") {
        CHECK(grain_per_foot.in(gram_per_metre) ==
              doctest::Approx(0.212594849081364).epsilon(1e-14));
        CHECK(gram_per_metre.in(grain_per_foot) ==
              doctest::Approx(4.70378282597655).epsilon(1e-14));
    }

    TEST_CASE("a head of 200 grains over 30 feet weighs 6.67 grains a foot") {
        const LinearDensity taper = (200.0 * grain) / (30.0 * foot);
        CHECK(near(taper, 6.6667 * grain_per_foot, 0.0001 * grain_per_foot));
    }

    TEST_CASE("ten degrees Celsius are fifty degrees Fahrenheit and 283.15 K") {
        const auto cold = Temperature::from_fahrenheit(50.0);
        CHECK(cold.celsius() == doctest::Approx(10.0).epsilon(1e-12));
        CHECK(cold.kelvin() == doctest::Approx(283.15).epsilon(1e-14));
        CHECK((cold - Temperature::from_celsius(4.0)).kelvin() ==
              doctest::Approx(6.0).epsilon(1e-12));
    }
}
