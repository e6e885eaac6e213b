#include "quantity/parse.h"

#include <doctest/doctest.h>

#include <random>
#include <string>

#include "quantity/print.h"
#include "quantity/units.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;

namespace {

struct LengthCase {
    const char* text;
    double millimetres;
};

std::string why(const auto& result) {
    return result ? "" : to_line(result.error());
}

}  // namespace

TEST_SUITE("Reading quantities") {
    TEST_CASE("lengths as tapes, micrometers and people write them") {
        // Sums by hand: 12 ft 3 in = 147 in = 3733.8 mm; 24 3/16 in = 614.3625 mm.
        const LengthCase cases[] = {
            {"24 in", 609.6},    {"24in", 609.6},
            {"24\"", 609.6},     {"12 ft 3 in", 3733.8},
            {"12' 3\"", 3733.8}, {"12'3\"", 3733.8},
            {"12ft3in", 3733.8}, {"3.7 m", 3700.0},
            {"0.94 mm", 0.94},   {"0.037 in", 0.9398},
            {"37 thou", 0.9398}, {"24 3/16 in", 614.3625},
            {"3/8 in", 9.525},   {"12 ft 3 1/2 in", 3746.5},
            {".5 m", 500.0},     {" 10 FT ", 3048.0},
            {"1e3 mm", 1000.0},  {"-2 in", -50.8},
            {"5 feet", 1524.0},  {"12′ 3″", 3733.8},
        };
        for (const auto& each : cases) {
            CAPTURE(each.text);
            const auto parsed = parse_length(each.text);
            REQUIRE_MESSAGE(parsed.has_value(), why(parsed));
            CHECK(near(parsed->value, each.millimetres * millimetre, 1e-9 * millimetre));
            CHECK_FALSE(parsed->uncertainty.has_value());
        }
    }

    TEST_CASE("grains and grams are told apart by the letter") {
        CHECK(near(parse_mass("22.4 gr")->value, 22.4 * grain, 1e-9 * grain));
        CHECK(near(parse_mass("1.45 g")->value, 1.45 * gram, 1e-9 * gram));
        CHECK(near(parse_mass("1.45g")->value, 1.45 * gram, 1e-9 * gram));
        CHECK(near(parse_mass("1 oz")->value, 437.5 * grain, 1e-9 * grain));
    }

    TEST_CASE("every other kind of quantity in the contract") {
        CHECK(near(parse_speed("6 in/s")->value, 6.0 * inch_per_second, 1e-12 * metre_per_second));
        CHECK(near(parse_speed("6 ips")->value, 6.0 * inch_per_second, 1e-12 * metre_per_second));
        CHECK(near(parse_speed("0.15 m/s")->value, 0.15 * metre_per_second,
                   1e-12 * metre_per_second));
        CHECK(near(parse_speed("3 ft/s")->value, 0.9144 * metre_per_second,
                   1e-12 * metre_per_second));
        CHECK(near(parse_density("4.1 g/cm3")->value, 4.1 * gram_per_cubic_centimetre,
                   1e-9 * kilogram_per_cubic_metre));
        CHECK(near(parse_density("9.2 kg/m3")->value, 9.2 * kilogram_per_cubic_metre,
                   1e-12 * kilogram_per_cubic_metre));
        CHECK(near(parse_linear_density("14 gr/ft")->value, 14.0 * grain_per_foot,
                   1e-12 * grain_per_foot));
        CHECK(near(parse_duration("12.5 s")->value, 12.5 * second, 1e-12 * second));
        CHECK(parse_temperature("50 F")->value.celsius() == doctest::Approx(10.0));
        CHECK(parse_temperature("-3 C")->value.celsius() == doctest::Approx(-3.0));
        CHECK(parse_temperature_difference("0.9 F")->kelvin() == doctest::Approx(0.5));
    }

    TEST_CASE("a reading may carry its own standard uncertainty") {
        for (const char* text : {"22.4 gr +- 0.2 gr", "22.4 +- 0.2 gr", "22.4 gr ± 0.2 gr",
                                 "22.4±0.2gr", "22.4 gr +- 0.2"}) {
            CAPTURE(text);
            const auto parsed = parse_mass(text);
            REQUIRE_MESSAGE(parsed.has_value(), why(parsed));
            CHECK(near(parsed->value, 22.4 * grain, 1e-9 * grain));
            REQUIRE(parsed->uncertainty.has_value());
            CHECK(near(*parsed->uncertainty, 0.2 * grain, 1e-9 * grain));
        }
        CHECK(near(*parse_length("12 ft 3 in +- 1/8 in")->uncertainty, 0.125 * inch, 1e-9 * inch));
        CHECK(near(*parse_length("12 ft 3 in +- 0.5")->uncertainty, 0.5 * inch, 1e-9 * inch));
        CHECK(parse_temperature("50 F +- 0.9 F")->uncertainty->kelvin() == doctest::Approx(0.5));
        CHECK_FALSE(parse_mass("22.4 gr +- -0.2 gr").has_value());
    }

    TEST_CASE("a bare number takes its column's unit, and without one is refused") {
        CHECK(near(parse_mass("22.4", {'.', "gr"})->value, 22.4 * grain, 1e-9 * grain));
        CHECK(near(parse_mass("1.45 g", {'.', "gr"})->value, 1.45 * gram, 1e-9 * gram));
        const auto bare = why(parse_mass("22.4"));
        CHECK(mentions(bare, "has no unit"));
        CHECK(mentions(bare, "gr (grains) or g (grams)"));
    }

    TEST_CASE("a decimal comma is refused with a hint, unless the file says that it has them") {
        CHECK(mentions(why(parse_mass("22,4 gr")), "write a decimal point"));
        CHECK(near(parse_mass("22,4 gr", {',', ""})->value, 22.4 * grain, 1e-9 * grain));
        CHECK_FALSE(parse_mass("22.4 gr", {',', ""}).has_value());
    }

    TEST_CASE("what is not a quantity is refused, and the unit that was not understood is named") {
        CHECK(mentions(why(parse_mass("22.4 in")), "unknown unit 'in'"));
        CHECK(mentions(why(parse_length("6 in/s")), "unknown unit 'in/s'"));
        CHECK(mentions(why(parse_mass("heavy")), "does not begin with a number"));
        CHECK(mentions(why(parse_mass("")), "is empty"));
        CHECK(mentions(why(parse_mass("nan gr")), "does not begin with a number"));
        CHECK(mentions(why(parse_mass("inf gr")), "does not begin with a number"));
        CHECK(mentions(why(parse_mass("1e400 gr")), "out of any sensible range"));
        CHECK(mentions(why(parse_length("1/0 in")), "divides by zero"));
        CHECK_FALSE(parse_mass("22.4 gr 3").has_value());
        CHECK_FALSE(parse_length("12 in 3 ft").has_value());
        CHECK_FALSE(parse_mass("22.4 gr +-").has_value());
        CHECK_FALSE(parse_mass("--3 gr").has_value());
    }

    TEST_CASE("a thousand-digit number gets a short answer") {
        const auto answer = why(parse_mass(std::string(1000, '9') + " gr"));
        CHECK(mentions(answer, "out of any sensible range"));
        CHECK(answer.size() < 200);
    }

    TEST_CASE("several micrometer readings stand in one cell") {
        for (const char* text : {"0.94 mm 0.95 mm 0.93 mm", "0.94|0.95|0.93 mm",
                                 "0.94 0.95 0.93 mm", "0.94mm | 0.95mm | 0.93mm"}) {
            CAPTURE(text);
            const auto parsed = parse_lengths(text);
            REQUIRE_MESSAGE(parsed.has_value(), why(parsed));
            REQUIRE(parsed->size() == 3);
            CHECK(near((*parsed)[1].value, 0.95 * millimetre, 1e-9 * millimetre));
        }
        CHECK(parse_lengths("0.94 0.95", {'.', "mm"})->size() == 2);
        const auto mixed = parse_lengths("0.94 37 thou", {'.', "MM"});
        CHECK(near((*mixed)[0].value, 0.94 * millimetre, 1e-9 * millimetre));
        CHECK(near((*mixed)[1].value, 37.0 * thou, 1e-9 * thou));
        CHECK(near((*parse_lengths("0.94 mm 37 thou"))[1].value, 37.0 * thou, 1e-9 * thou));
        CHECK_FALSE(parse_lengths("0.94 0.95").has_value());
        CHECK_FALSE(parse_lengths("0.94 mm, 0.95 mm").has_value());
        CHECK_FALSE(parse_lengths("0.94 mm x").has_value());
        // Where one reading ends is never guessed.
        CHECK(mentions(why(parse_lengths("0.94 0.80.8 mm")), "two decimal points"));
        CHECK_FALSE(parse_lengths("0.94+0.95 mm").has_value());
        CHECK_FALSE(parse_lengths("0,94 0,80,8", {',', "mm"}).has_value());
        CHECK(parse_lengths("0.94+-0.01 .95", {'.', "mm"})->size() == 2);
        CHECK_FALSE(parse_lengths(" | ").has_value());
    }

    TEST_CASE("what is printed exactly reads back as the same number") {
        std::mt19937 random(20261125);
        std::uniform_real_distribution<double> exponent(-6.0, 6.0);
        for (int i = 0; i < 2000; ++i) {
            const double value = std::pow(10.0, exponent(random));
            const auto parsed = parse_mass(exact(value) + " gr");
            REQUIRE(parsed.has_value());
            CHECK(parsed->value == value * grain);
        }
    }

    TEST_CASE("no text at all makes the reader stumble") {
        std::mt19937 random(7);
        const std::string letters = "0123456789.,+-±/'\" ginmtrfKC|eE\t\xff";
        for (int i = 0; i < 20000; ++i) {
            std::string text;
            for (auto left = random() % 12; left > 0; --left) {
                text += letters[random() % letters.size()];
            }
            const auto mass = parse_mass(text);
            if (mass) CHECK(std::isfinite(mass->value.si()));
            (void)parse_length(text);
            (void)parse_lengths(text, {',', "mm"});
            (void)parse_temperature(text);
        }
    }
}
