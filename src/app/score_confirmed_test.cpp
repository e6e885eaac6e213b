#include "app/score_confirmed.h"

#include <doctest/doctest.h>

#include <sstream>

#include "app/coil_changes.h"
#include "support/near.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// Two feet of it weigh so much, and it is so thick; confirmed as that class.
Coil confirm(Workshop& workshop, const std::string& code, const char* weight, const char* diameters,
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

std::string csv_of(const ConfirmedScore& score) {
    std::ostringstream out;
    write_confirmed_score(score, out, Format::csv);
    return out.str();
}

}  // namespace

TEST_SUITE("How good the answers are in a catalogue") {
    TEST_CASE("what the program would have said is held against what was confirmed") {
        auto workshop = workshop_in_memory();
        confirm(workshop, "A1", "22.0 gr", "0.84 0.85 mm", "T-11");  // 11 gr/ft of 4.2 g/cm3
        confirm(workshop, "A2", "28.0 gr", "0.95 0.96 mm", "T-14");
        confirm(workshop, "A3", "22.0 gr", "0.84 0.85 mm", "T-14");  // it would say T-11
        const auto score = score_confirmed(workshop);
        REQUIRE(score.scored() == 3);
        CHECK(accuracy(score.answers[class_question]).value == doctest::Approx(2.0 / 3.0));
        // What is confirmed wrongly costs certainty nothing: the program does not know it.
        CHECK(mean_certainty(score.answers[class_question]).value > 0.9);
        CHECK(score.listed == 3);
        CHECK(score.called_unlisted == 0);
        CHECK_FALSE(score.is_enough());
        std::ostringstream table;
        write_confirmed_score(score, table, Format::table);
        says(table.str(), "too few to say");
    }

    // 12.0 gr/ft is T-12, and so the program says. After five such coils were confirmed as T-11
    // the learned library calls the sixth T-11; the score does not.
    TEST_CASE("what was learned from the coils does not grade itself") {
        auto workshop = workshop_in_memory();
        for (const char* code : {"A1", "A2", "A3", "A4", "A5", "A6"}) {
            confirm(workshop, code, "24.0 gr", "0.88 0.89 mm", "T-11");
        }
        const auto score = score_confirmed(workshop);
        REQUIRE(score.scored() == 6);
        CHECK(accuracy(score.answers[class_question]).value == 0.0);
        CHECK(accuracy(score.answers[0]).value == 0.0);  // T-12 is another grain class
    }

    TEST_CASE("a listed coil that is like no listed line is a false alarm of 'unlisted'") {
        auto workshop = workshop_in_memory();
        // 13 gr/ft of 0.60 mm is 9.8 g/cm3: a lead core, and no listed line.
        confirm(workshop, "A1", "26.0 gr", "0.60 0.60 mm", "T-14");
        const auto score = score_confirmed(workshop);
        CHECK(score.listed == 1);
        CHECK(score.called_unlisted == 1);
    }

    TEST_CASE("what cannot be scored is counted, and why") {
        auto workshop = workshop_in_memory();
        const auto bare = add_coil(workshop, "A1").value();
        REQUIRE(confirm_coil(workshop, bare, "T-8").has_value());
        const auto score = score_confirmed(workshop);
        CHECK(score.scored() == 0);
        CHECK(score.without_readings == 1);
        CHECK(csv_of(score) ==
              "of,measure,value,standard_error,coils\n"
              "all,scored,0,0,1\n"
              "all,without_readings,1,0,1\n"
              "all,of_other_classes,0,0,1\n"
              "all,refused,0,0,1\n");
    }

    TEST_CASE("a catalogue without confirmed coils has no rows") {
        auto workshop = workshop_in_memory();
        const auto score = score_confirmed(workshop);
        CHECK(csv_of(score) == "of,measure,value,standard_error,coils\n");
    }

    TEST_CASE("a little at a time comes to the same") {
        auto workshop = workshop_in_memory();
        for (int at = 0; at < 12; ++at) {
            confirm(workshop, "A" + std::to_string(at), "22.3 gr", "0.84 0.85 mm", "T-11");
        }
        ConfirmedScorer scorer(workshop, confirmed_coils(workshop));
        int steps = 0;
        while (scorer.go_on({})) ++steps;
        CHECK(steps == 11);  // a coil at a time, and none left after the twelfth
        CHECK(csv_of(scorer.score()) == csv_of(score_confirmed(workshop)));
        CHECK(scorer.score().is_enough());
    }

    TEST_CASE("a coil whose word is taken back is not scored any more") {
        auto workshop = workshop_in_memory();
        const auto coil = confirm(workshop, "A1", "22.0 gr", "0.84 0.85 mm", "T-11");
        REQUIRE(take_confirmation_back(workshop, coil).has_value());
        CHECK(score_confirmed(workshop).scored() == 0);
    }
}
