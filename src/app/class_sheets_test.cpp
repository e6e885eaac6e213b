#include "app/class_sheets.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "app/coil_changes.h"
#include "quantity/units.h"
#include "support/near.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

Coil confirm(Workshop& workshop, const char* code, const char* weight, const char* diameters,
             const char* class_name) {
    const auto coil = add_coil(workshop, code).value();
    for (const auto& [field, text] : {std::pair{ReadingField::sample_length, "24 in"},
                                      std::pair{ReadingField::sample_weight, weight},
                                      std::pair{ReadingField::diameters, diameters}}) {
        REQUIRE(record_reading(workshop, coil, field, text).has_value());
    }
    REQUIRE(confirm_coil(workshop, coil, class_name).has_value());
    return coil;
}

ClassSheet sheet_of(Workshop& workshop, const char* name) {
    const auto sheets = class_sheets(workshop, confirmed_coils(workshop));
    return *std::ranges::find_if(sheets,
                                 [&](const ClassSheet& each) { return each.now.name == name; });
}

}  // namespace

TEST_SUITE("What is known about a class") {
    TEST_CASE("a worked example: 10 gr/ft of 1.87975 g/cm3 is 1.200 mm and sinks at 4.36 in/s") {
        // check-values.md, section 1 for the diameter. The rate as in the README's worked example:
        // C_D Re² = 15.404 x (1.2e-3)³ x 0.8803 / (1.3063e-6)² = 13 732, and Cheng's law has
        // C_D = 1.325 at Re = 101.8: 1.325 x 101.8² is just that. v = 101.8 x 1.3063e-6 / 1.2e-3
        // = 0.1108 m/s = 4.36 in/s.
        const auto middle = middle_of({std::log(10.0), 0.03, std::log(1.87975), 0.08, 0.0});
        CHECK(near(middle.weight_per_length, 10.0 * grain_per_foot, 1e-9 * grain_per_foot));
        CHECK(near(middle.diameter, 1.200 * millimetre, 0.0001 * millimetre));
        CHECK(near(middle.density, 1.87975 * gram_per_cubic_centimetre,
                   1e-9 * gram_per_cubic_centimetre));
        CHECK(near(middle.sink_rate, 4.36 * inch_per_second, 0.01 * inch_per_second));
    }

    TEST_CASE("what floats has a rate below zero: it rises") {
        CHECK(middle_of({std::log(10.0), 0.03, std::log(0.8), 0.08, 0.0}).sink_rate < Speed{});
    }

    TEST_CASE("a class tells how far its confirmed coils moved it") {
        auto workshop = workshop_in_memory();
        const auto fresh = sheet_of(workshop, "T-11");
        CHECK_FALSE(fresh.has_learned());
        CHECK(fresh.weight_moved() == LinearDensity{});
        // 23.4 gr over 24 in are 11.7 gr/ft, 6.4 % above T-11's name; three coils leave
        // 0.5 / 3.5 of the way: 0.86 x 6.4 % = 5.4 % (identify/learning.h), a little less for the
        // errors of reading.
        for (const char* code : {"A1", "A2", "A3"}) {
            confirm(workshop, code, "23.4 gr", "0.86 0.87 mm", "T-11");
        }
        const auto sheet = sheet_of(workshop, "T-11");
        CHECK(sheet.learned_from == 3);
        CHECK(sheet.set_aside == 0);
        CHECK(near(sheet.weight_moved_share(), 0.054, 0.004));
        CHECK(near(sheet.weight_moved(), 0.59 * grain_per_foot, 0.05 * grain_per_foot));
        CHECK(near(sheet.middle_before.weight_per_length, 11.0 * grain_per_foot,
                   1e-9 * grain_per_foot));
    }

    TEST_CASE("a confirmed coil without readings is counted as one that says nothing") {
        auto workshop = workshop_in_memory();
        REQUIRE(confirm_coil(workshop, add_coil(workshop, "A1").value(), "T-8").has_value());
        const auto sheet = sheet_of(workshop, "T-8");
        CHECK(sheet.now.confirmed == 1);
        CHECK(sheet.silent == 1);
        CHECK_FALSE(sheet.has_learned());
    }

    TEST_CASE("a confirmed coil that looks wrong is told with its reason and where it fits") {
        auto workshop = workshop_in_memory();
        for (const char* code : {"A1", "A2", "A3"}) {
            confirm(workshop, code, "22.3 gr", "0.84 0.85 mm", "T-11");
        }
        confirm(workshop, "B7", "16.1 gr", "0.71 0.72 mm", "T-11");
        CHECK(sheet_of(workshop, "T-11").set_aside == 1);
        const auto examples = confirmed_examples(workshop, confirmed_coils(workshop));
        REQUIRE(examples.size() == 4);
        const auto& wrong = examples.back();
        CHECK(wrong.coil.code == "B7");
        CHECK(wrong.is_set_aside);
        CHECK(wrong.chance < 0.001);
        CHECK(wrong.better_class == "T-8");
        says(wrong.doubt, "it fits T-8 better");
        CHECK_FALSE(examples.front().is_set_aside);
        CHECK(examples.front().doubt.empty());
    }

    TEST_CASE("a coil has a place on the map where its readings tell weight and density") {
        auto workshop = workshop_in_memory();
        confirm(workshop, "A1", "22.0 gr", "0.85 mm", "T-11");
        const auto light = add_coil(workshop, "A2").value();
        REQUIRE(record_reading(workshop, light, ReadingField::sample_length, "24 in"));
        REQUIRE(record_reading(workshop, light, ReadingField::sample_weight, "22 gr"));
        REQUIRE(confirm_coil(workshop, light, "T-11").has_value());
        const auto examples = confirmed_examples(workshop, confirmed_coils(workshop));
        REQUIRE(examples.size() == 2);
        REQUIRE(examples[0].line.has_value());
        // 11.0 gr/ft of 0.850 mm: 11 x 0.212595 g/m over pi/4 0.85^2 mm2 = 4.121 g/cm3.
        CHECK(near(middle_of(*examples[0].line).density, 4.121 * gram_per_cubic_centimetre,
                   0.001 * gram_per_cubic_centimetre));
        CHECK_FALSE(examples[1].line.has_value());
    }
}
