#include "catalog/readings.h"

#include <doctest/doctest.h>

#include "catalog/coil.h"
#include "catalog/read_into.h"
#include "catalog/reading_units.h"
#include "quantity/units.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;

namespace {

std::string refusal(ReadingField field, std::string_view text, NumberStyle style = {}) {
    const auto values = read_values(field, text, style);
    return values ? "" : to_line(values.error());
}

}  // namespace

TEST_SUITE("Readings") {
    TEST_CASE("every field has a name that leads back to it") {
        for (const auto field : all_reading_fields) {
            CHECK(reading_field_from(name_of(field)) == field);
        }
        CHECK(mentions(to_line(reading_field_from("weight").error()), "sample_weight"));
    }

    TEST_CASE("a bare number has the unit of the set that is chosen, and a typed unit wins") {
        for (const auto field : all_reading_fields) {
            CAPTURE(name_of(field));
            CHECK(unit_of(field, grains_and_feet) == usual_unit(field));
            if (unit_of(field, grams_and_metres).empty()) continue;
            for (const Units& units : {grains_and_feet, grams_and_metres}) {
                const std::string_view unit = unit_of(field, units);
                const auto bare = read_values(field, "2", {'.', unit});
                const auto with_it = read_values(field, "2 " + std::string(unit), {});
                REQUIRE(bare.has_value());
                CHECK(*bare == with_it.value());
            }
        }
        const NumberStyle in_grams{'.', unit_of(ReadingField::sample_weight, grams_and_metres)};
        CHECK(read_values(ReadingField::sample_weight, "22.4 gr", in_grams) ==
              read_values(ReadingField::sample_weight, "22.4 gr"));
        says(read_values(ReadingField::sample_weight, "-1", in_grams).error().suggestion,
             "such as 1.45 g");
    }

    TEST_CASE("a reading that no line has is refused, with the field and what would be accepted") {
        CHECK(mentions(refusal(ReadingField::sample_weight, "-3 gr"),
                       "sample_weight: '-3 gr' is negative"));
        CHECK(mentions(refusal(ReadingField::sample_weight, "0 gr"), "is zero"));
        CHECK(mentions(refusal(ReadingField::whole_length, "2 m 3"), "unknown unit"));
        CHECK(mentions(refusal(ReadingField::whole_length, "2000 m"), "up to 1 km"));
        CHECK(mentions(refusal(ReadingField::diameters, "0.94 mm 94 mm"), "up to 25 mm"));
        CHECK(mentions(refusal(ReadingField::water_temperature, "-5 C"), "0 C (32 F)"));
        CHECK(mentions(refusal(ReadingField::tint, "blue"), "clear, pale, brown, dark, black"));
        CHECK(mentions(refusal(ReadingField::floats, "maybe"), "yes or no"));
        CHECK(refusal(ReadingField::submerged_weight, "0 gr").empty());
        CHECK(refusal(ReadingField::water_temperature, "32 F").empty());
    }

    TEST_CASE("a cell read straight into a coil's readings says what its list of values says") {
        const NumberStyle inches{'.', "in"};
        for (const auto field : all_reading_fields) {
            for (const char* text : {"24", "24.5 mm", "0.83 0.84 mm 0.82", "1 1/2 in",
                                     "22.4 gr +- 0.2", "007", "3.", ".5", "1e3", "1.2.3", "-4", "0",
                                     "10 C", "12 s", "black", "Level", "yes", "", "24 in x"}) {
                CAPTURE(text);
                CoilReadings expected;
                const auto values = read_values(field, text, inches);
                CoilReadings readings;
                const auto read = read_into(readings, field, text, inches);
                REQUIRE(read.has_value() == values.has_value());
                if (!values) {
                    CHECK(read.error() == values.error());
                    continue;
                }
                for (const auto& value : *values) put(expected, field, value);
                CHECK(readings == expected);
            }
        }
    }

    TEST_CASE("diameters add up, everything else replaces") {
        CoilReadings readings;
        for (const char* text : {"0.94 mm 0.95 mm", "0.93 mm"}) {
            const auto values = read_values(ReadingField::diameters, text);
            REQUIRE(values.has_value());
            for (const auto& value : *values) put(readings, ReadingField::diameters, value);
        }
        CHECK(readings.diameters.size() == 3);
        for (const char* text : {"22.4 gr", "23 gr"}) {
            put(readings, ReadingField::sample_weight,
                read_values(ReadingField::sample_weight, text)->front());
        }
        CHECK(near(readings.sample_weight->value, 23.0 * grain, 1e-9 * grain));
        CHECK(has(readings, ReadingField::sample_weight));
        CHECK_FALSE(has(readings, ReadingField::sample_length));
    }

    TEST_CASE("what read_values gives can be put, for every field") {
        const char* texts[] = {"24 in", "22.4 gr", "0.9 mm",  "15 gr", "2 ft",   "4 s",
                               "50 F",  "Brown",   "tapered", "15 ft", "165 gr", "no"};
        CoilReadings readings;
        std::size_t i = 0;
        for (const auto field : all_reading_fields) {
            const auto values = read_values(field, texts[i++]);
            REQUIRE(values.has_value());
            put(readings, field, values->front());
            CHECK(has(readings, field));
        }
    }
}

TEST_SUITE("Names of the trade") {
    TEST_CASE("grades and classes are read as they are written") {
        CHECK(name_of(*grain_class_from("t-11")) == "T-11");
        CHECK(name_of(*density_grade_from("Type 6")) == "type 6");
        CHECK(name_of(*density_grade_from("intermediate")) == "intermediate");
        CHECK(DensityGrade::floating() < DensityGrade::intermediate());
        CHECK(DensityGrade::type(3) < DensityGrade::type(6));
        for (const char* bad : {"T-", "T-0", "T-100", "11", "T-8x"}) {
            CHECK_FALSE(grain_class_from(bad).has_value());
        }
        CHECK_FALSE(density_grade_from("type 0").has_value());
        CHECK_FALSE(line_size_from("16").has_value());
        CHECK_FALSE(family_from("tip").has_value());
    }

    TEST_CASE("a code has no blanks and fits a label") {
        CHECK(coil_code_from(" A7-K3 ") == "A7-K3");
        CHECK(coil_code_from("Ørret_2").has_value());
        CHECK_FALSE(coil_code_from("").has_value());
        CHECK_FALSE(coil_code_from("A 7").has_value());
        CHECK_FALSE(coil_code_from("=A7").has_value());
        CHECK_FALSE(coil_code_from(std::string(41, 'A')).has_value());
        CHECK_FALSE(coil_code_from("\xff").has_value());
    }
}
