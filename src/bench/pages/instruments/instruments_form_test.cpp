// A check as it is typed: what Enter does, what stays, what is refused.
#include "bench/pages/instruments/instruments_form.h"

#include <doctest/doctest.h>

#include "support/an_instrument.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench::instruments_page;

namespace {

const CheckDraft& draft(Bench& bench) {
    return *check_at_hand(bench.desk.form());
}

}  // namespace

TEST_SUITE("A check as it is typed") {
    TEST_CASE("Enter leads from standard to standard without a hand on the mouse") {
        Bench bench;
        bench.perform("check");
        for (const char* text :
             {"100", "0.03", "100.3", "100.2", "100.3", "", "300", "0.06", "300.2", ""}) {
            bench.enter(text);
        }
        CHECK(bench.desk.form().spot == Spot::stated);
        const auto read = draft(bench).read();
        REQUIRE(read.size() == 2);
        CHECK(read[0].readings.size() == 3);
        CHECK(read[0].written == "100 gr,0.0173205 gr");  // 0.03/√3
        CHECK(read[1].as_written == std::vector<std::string>{"300.2 gr"});
        CHECK(bench.desk.view().check.standards.size() == 2);
        CHECK(bench.desk.view().check.can_save);
        says(bench.desk.view().check.step, "2 standards read");
    }

    TEST_CASE("what cannot be understood stays in its field, and the keyboard with it") {
        Bench bench;
        bench.perform("check");
        bench.enter("100 mm");
        CHECK(bench.desk.form().spot == Spot::stated);
        CHECK_FALSE(bench.desk.view().check.stated.error.empty());
        bench.enter("100");
        bench.enter("");
        says(bench.desk.view().check.sure.error, "how sure is it?");
        bench.enter("-1");
        CHECK(bench.desk.form().spot == Spot::sure);
        bench.enter("0.01");
        bench.enter("");
        says(bench.desk.view().check.reading.error, "nothing is read yet");
        bench.enter("100,2");
        CHECK(bench.desk.form().spot == Spot::reading);
        CHECK_FALSE(bench.desk.view().check.reading.error.empty());
        CHECK(draft(bench).reading.text == "100,2");
        bench.enter("100.2");
        CHECK(bench.desk.view().check.reading.error.empty());
        CHECK(draft(bench).read().front().readings.size() == 1);
    }

    TEST_CASE("how sure a standard is may be a tolerance, k = 1 or k = 2") {
        Bench bench;
        bench.perform("check");
        bench.enter("100");
        bench.perform("stated as");
        text_at(bench.desk.form(), Spot::sure) = "0.02";
        CHECK(bench.desk.view().check.sure.note == "0.020 gr, k = 1");
        bench.perform("stated as");
        says(bench.desk.view().check.sure.note, "0.010 gr, k = 1");
        bench.enter("0.02");
        CHECK(draft(bench).standards.front().stated_uncertainty == app::ShownFigure{0.01 * grain});
    }

    TEST_CASE("a reading, and then the standard, is taken back; any reading is taken out") {
        Bench bench;
        bench.perform("check");
        for (const char* text : {"100", "0.01", "100.3", "109", "100.2"}) bench.enter(text);
        take_out(bench.desk.form(), 1);
        CHECK(draft(bench).standards.front().as_written ==
              std::vector<std::string>{"100.3 gr", "100.2 gr"});
        bench.perform("take back");
        bench.perform("take back");
        CHECK(draft(bench).standards.front().readings.empty());
        bench.perform("take back");
        CHECK(draft(bench).standards.empty());
        CHECK(bench.desk.form().spot == Spot::stated);
    }

    TEST_CASE("the same weight laid on again goes on with its readings; a mended one keeps them") {
        Bench bench;
        bench.perform("check");
        for (const char* text : {"100", "0.01", "100.3", "", "300", "0.01", "300.1", "", "100",
                                 "0.01", "100.2", "100.2"}) {
            bench.enter(text);
        }
        REQUIRE(draft(bench).standards.size() == 2);
        CHECK(draft(bench).standards[0].readings.size() == 3);
        go_to(bench.desk.form(), Spot::stated);
        bench.enter("101");
        bench.enter("0.01");
        REQUIRE(draft(bench).standards.size() == 2);
        CHECK(draft(bench).standards[0].stated == app::ShownFigure{101.0 * grain});
        CHECK(draft(bench).standards[0].readings.size() == 3);
    }

    TEST_CASE("a slip is marked while it is read") {
        Bench bench;
        bench.perform("check");
        for (const char* text : {"100", "0.01", "100.3", "100.2", "100.2", "109"}) {
            bench.enter(text);
        }
        const auto& check = bench.desk.view().check;
        REQUIRE(check.chips.size() == 4);
        CHECK(check.chips[3].is_odd);
        CHECK_FALSE(check.chips[0].is_odd);
        says(check.odd, "One is unlike the others");
        says(check.live, "mean 102.4");
    }

    TEST_CASE(
        "a scale that shows grams is typed in grams, and what was typed before keeps its unit") {
        Bench bench;
        bench.perform("check");
        bench.enter("100");
        bench.perform("other unit");
        CHECK(draft(bench).unit == "g");
        CHECK(draft(bench).stated.text == "100 gr");
        bench.enter("0.001");
        CHECK(draft(bench).standards.front().stated == app::ShownFigure{100.0 * grain});
        bench.enter("6.48");
        CHECK(draft(bench).standards.front().readings.front() == app::ShownFigure{6.48 * gram});
        says(bench.desk.view().check.live, "mean 6.48");
    }

    TEST_CASE("a check stays with its instrument while others are looked at") {
        Bench bench;
        bench.perform("check");
        for (const char* text : {"100", "0.01", "100.3"}) bench.enter(text);
        bench.post(ChooseInstrument{{app::InstrumentKind::tape, ""}});
        CHECK(bench.desk.view().task == Task::look);
        CHECK(bench.desk.has_unsaved());
        bench.post(ChooseInstrument{scale_s2});
        CHECK(bench.desk.view().about.check_label == "Go on with the check");
        bench.perform("check");
        CHECK(bench.desk.form().spot == Spot::reading);
        CHECK(draft(bench).read().front().readings.size() == 1);
        bench.perform("throw away");
        CHECK_FALSE(bench.desk.has_unsaved());
    }
}
