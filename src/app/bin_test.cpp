#include "app/bin.h"

#include <doctest/doctest.h>

#include <sstream>

#include "app/coil_changes.h"
#include "app/take_in.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

void read(Workshop& workshop, const Coil& coil, ReadingField field, const char* text) {
    REQUIRE(record_reading(workshop, coil, field, text).has_value());
}

CoilState state_of(Workshop& workshop, const Coil& coil) {
    Bin bin;
    bin.refresh(workshop);
    return bin.state(bin.find(coil.id).value());
}

}  // namespace

TEST_SUITE("The bin") {
    TEST_CASE("a coil goes from unmeasured to confirmed, and back when the word is taken back") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        CHECK(state_of(workshop, coil) == CoilState::unmeasured);
        read(workshop, coil, ReadingField::sample_length, "24 in");
        read(workshop, coil, ReadingField::sample_weight, "14 gr");
        CHECK(state_of(workshop, coil) == CoilState::needs_reading);
        read(workshop, coil, ReadingField::sample_weight, "22.4 gr");
        read(workshop, coil, ReadingField::diameters, "0.84 0.85 mm");
        CHECK(state_of(workshop, coil) == CoilState::ready);
        REQUIRE(confirm_coil(workshop, coil, "T-11").has_value());
        CHECK(state_of(workshop, coil) == CoilState::confirmed);
        REQUIRE(take_confirmation_back(workshop, coil).has_value());
        CHECK(state_of(workshop, coil) == CoilState::ready);
        CHECK_FALSE(take_confirmation_back(workshop, coil).has_value());
    }

    TEST_CASE("a correction supersedes, and a withdrawal leaves nothing in the field") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        read(workshop, coil, ReadingField::sample_length, "24 in");
        read(workshop, coil, ReadingField::sample_weight, "20 gr");
        read(workshop, coil, ReadingField::sample_weight, "22 gr");
        Bin bin;
        bin.refresh(workshop);
        CHECK(bin.entry(0).readings.sample_weight->value == 22.0 * grain);
        REQUIRE(withdraw_reading(workshop, coil, ReadingField::sample_weight).has_value());
        bin.refresh(workshop);
        CHECK_FALSE(bin.entry(0).readings.sample_weight.has_value());
        CHECK_FALSE(withdraw_reading(workshop, coil, ReadingField::sample_weight).has_value());
    }

    TEST_CASE("a verdict follows its coil's readings") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        read(workshop, coil, ReadingField::sample_length, "24 in");
        read(workshop, coil, ReadingField::sample_weight, "16 gr");
        Bin bin;
        bin.refresh(workshop);
        const auto before = bin.verdict(0).probabilities;
        bin.refresh(workshop);
        CHECK(bin.verdict(0).probabilities == before);
        read(workshop, coil, ReadingField::sample_weight, "28 gr");
        bin.refresh(workshop);
        CHECK(bin.verdict(0).probabilities != before);
        CHECK(bin.verdict(0).grain_class.value == GrainClass{14});
        CHECK(bin.label(0).text().starts_with("T-14, "));
    }

    TEST_CASE("codes are found, and a taken code is refused") {
        auto workshop = workshop_in_memory();
        REQUIRE(add_coil(workshop, "B2").has_value());
        REQUIRE(add_coil(workshop, "A7").has_value());
        CHECK_FALSE(add_coil(workshop, "A7").has_value());
        Bin bin;
        bin.refresh(workshop);
        CHECK(bin.size() == 2);
        CHECK(bin.find_code("A7") == 0);  // by code
        CHECK_FALSE(bin.find_code("a7").has_value());
        CHECK(coil_by_code(workshop, " A7 ").has_value());
        CHECK(to_line(coil_by_code(workshop, "C3").error()).find("no coil 'C3'") !=
              std::string::npos);
    }

    TEST_CASE("confirming keeps what the program had said, and counts behind the class") {
        auto workshop = workshop_in_memory();
        const auto coil = add_coil(workshop, "A7").value();
        CHECK_FALSE(confirm_coil(workshop, coil, "T-1000").has_value());
        REQUIRE(confirm_coil(workshop, coil, "T-14", "it said so on the spool").has_value());
        workshop.refresh();
        int confirmed = 0;
        for (const auto& each : workshop.library()) confirmed += each.confirmed;
        CHECK(confirmed == 1);
    }

    TEST_CASE("the demonstration is taken in as one act") {
        auto workshop = workshop_in_memory();
        const auto taken = take_in_demo(workshop);
        CHECK(taken.coils >= 40);
        Bin bin;
        bin.refresh(workshop);
        CHECK(bin.size() == static_cast<std::size_t>(taken.coils));
        std::istringstream again("code,tint\nNEW,dark\n" + bin.entry(0).coil.code + ",dark\n");
        const auto refused = take_in_readings(workshop, again, "again.csv", "take in again");
        REQUIRE_FALSE(refused.has_value());
        REQUIRE(refused.error().size() == 2);  // the row, and what could be meant
        CHECK(refused.error().back().sentence == "1 of its coils is in the catalogue already");
        bin.refresh(workshop);
        CHECK_FALSE(bin.find_code("NEW").has_value());  // nothing of it
    }
}
