// The page on a real catalogue: each command is one act, or nothing.
#include "bench/pages/instruments/instruments_desk.h"

#include <doctest/doctest.h>

#include "app/coil_changes.h"
#include "support/an_instrument.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::instruments_page;

namespace {

const InstrumentRow& row(Bench& bench, const std::string& id) {
    for (const auto& each : bench.desk.view().list.rows) {
        if (each.id == id) return each;
    }
    FAIL("no row of " << id);
    return bench.desk.view().list.rows.front();
}

void read_two_weights(Bench& bench) {
    bench.perform("check");
    for (const char* text :
         {"100", "0.02", "100.3", "100.2", "100.3", "", "300", "0.02", "300.2", "300.3", "300.2"}) {
        bench.enter(text);
    }
}

}  // namespace

TEST_SUITE("The list of instruments") {
    TEST_CASE("it has all kinds, the usual one of each first, and what is known in words") {
        Bench bench;
        const auto& rows = bench.desk.view().list.rows;
        REQUIRE(rows.size() == 6);
        CHECK(rows[0].group == "Scales");
        CHECK(rows[0].name == "The usual scale");
        CHECK(rows[1].name == "S2");
        CHECK(rows[1].group.empty());
        CHECK(rows[1].in_hand);
        CHECK(rows[1].reads == "its maker's figures count");
        CHECK(rows[2].group == "Tapes");
        CHECK(bench.desk.view().list.summary == "6 instruments");
    }

    TEST_CASE("in grams and metres scales speak in grams, and every figure says what it is") {
        Bench bench;
        bench.shared.show_in(grams_and_metres);
        bench.desk.look_round();
        const auto& sentences = bench.desk.view().about.sentences;
        REQUIRE(sentences.size() >= 3);
        for (const auto& each : sentences) CHECK_MESSAGE(!each.help.empty(), each.words);
        says(sentences.back().words, " g");
        CHECK_FALSE(mentions(sentences.back().words, " gr"));
        bench.perform("check");
        CHECK(bench.desk.view().check.stated.unit == "g");
        CHECK_FALSE(bench.desk.view().check.live_help.empty());
        CHECK_FALSE(bench.desk.view().check.off_help.empty());
    }

    TEST_CASE("a scale that was checked in grains goes on in grains") {
        Bench bench;
        read_two_weights(bench);
        bench.perform("save");
        bench.shared.show_in(grams_and_metres);
        bench.desk.look_round();
        bench.perform("check");
        CHECK(bench.desk.view().check.stated.unit == "gr");
    }

    TEST_CASE("a code is found, a new one is asked about once and then begun") {
        Bench bench;
        bench.enter("thermo");
        CHECK(bench.desk.form().in_hand->kind == app::InstrumentKind::thermometer);
        bench.enter("S2");
        CHECK(bench.desk.form().in_hand == scale_s2);
        bench.enter("M7");
        says(bench.desk.view().list.code_note, "Enter again: 'M7' is new");
        CHECK(bench.desk.view().list.nothing == "No instrument with these letters.");
        bench.enter("M7");
        CHECK(bench.desk.view().task == Task::figures);
        CHECK(bench.desk.form().figures.code.text == "M7");
        go_to(bench.desk.form(), Spot::code);
        bench.enter("a,b");
        CHECK_FALSE(bench.desk.view().list.code_error.empty());
    }

    TEST_CASE("arrows walk through it and round its ends") {
        Bench bench;
        bench.perform("instrument above");
        CHECK(bench.desk.form().in_hand == app::InstrumentKey{app::InstrumentKind::scale, ""});
        bench.perform("instrument above");
        CHECK(bench.desk.form().in_hand->kind == app::InstrumentKind::thermometer);
        bench.perform("instrument below");
        CHECK(bench.desk.form().in_hand->kind == app::InstrumentKind::scale);
    }
}

TEST_SUITE("A check is saved") {
    // The six readings of instrument_check_test.cpp: 0.25 too high, s = 0.057735.
    TEST_CASE("as one act, which undo takes back and redo does again") {
        Bench bench;
        const auto acts = bench.acts();
        read_two_weights(bench);
        CHECK(bench.acts() == acts);  // nothing half-saved
        says(bench.desk.view().result.sentences.front().words, "It reads 0.25");
        CHECK(bench.desk.view().result.plot.points.size() == 2);
        bench.perform("save");
        CHECK(bench.acts() == acts + 1);
        CHECK(near(bench.scale().offset, 0.25 * grain, 1e-9 * grain));
        CHECK(near(bench.scale().repeatability, 0.057735 * grain, 1e-6 * grain));
        CHECK(bench.desk.view().message == "Saved: check of scale S2");
        CHECK_FALSE(bench.desk.has_unsaved());
        CHECK(bench.desk.view().task == Task::look);
        CHECK(row(bench, "scale S2").state.word == "checked");
        says(row(bench, "scale S2").reads, "reads 0.25");
        says(bench.desk.view().result.title, "The last check, 1 January 2026");
        CHECK(bench.desk.view().result.plot.points.size() == 2);

        bench.perform("undo");
        CHECK(bench.desk.view().message == "Undone: check scale S2");
        CHECK(bench.scale().offset == Mass{});
        CHECK(row(bench, "scale S2").state.word == "never checked");
        bench.perform("redo");
        CHECK(near(bench.scale().offset, 0.25 * grain, 1e-9 * grain));
    }

    TEST_CASE("of the usual instrument too") {
        Bench bench;
        bench.post(ChooseInstrument{{app::InstrumentKind::thermometer, ""}});
        bench.perform("check");
        for (const char* text : {"0", "0.1", "0.4", "0.5", "0.4"}) bench.enter(text);
        bench.perform("save");
        CHECK(bench.workshop.instruments().thermometers.at("").offset.kelvin() > 0.4);
        CHECK(row(bench, "thermometer").state.word == "checked");
    }

    TEST_CASE("not while nothing is read") {
        Bench bench;
        const auto acts = bench.acts();
        bench.perform("check");
        bench.perform("save");
        CHECK(bench.acts() == acts);
        CHECK(bench.desk.view().task == Task::check);
    }

    TEST_CASE("a stretched scale is told in words and drawn as a line") {
        Bench bench;
        bench.perform("check");
        for (const char* text : {"100", "0.01", "100.2", "100.2", "", "500", "0.01", "501.0",
                                 "501.0", "", "1000", "0.01", "1002.0", "1002.0"}) {
            bench.enter(text);
        }
        const auto& result = bench.desk.view().result;
        says(result.sentences[1].words, "the scale is stretched");
        REQUIRE(result.plot.courses.size() == 1);
        const auto& ends = result.plot.courses[0].points;
        CHECK((ends[1].y - ends[0].y) / (ends[1].x - ends[0].x) ==
              doctest::Approx(0.002).epsilon(0.02));
    }
}

TEST_SUITE("Instruments are added and changed") {
    TEST_CASE("from a small form, one act each") {
        Bench bench;
        const auto acts = bench.acts();
        bench.perform("new instrument");
        bench.enter("S3");
        bench.enter("0.02 g");
        bench.enter("0.05");
        bench.enter("");
        CHECK(bench.acts() == acts + 1);
        CHECK(bench.workshop.instruments().scales.at("S3").resolution == 0.02 * gram);
        CHECK(bench.desk.form().in_hand == app::InstrumentKey{app::InstrumentKind::scale, "S3"});
        CHECK(bench.desk.view().message == "New: scale S3");
        bench.perform("figures");
        CHECK(bench.desk.form().figures.limit.text == "0.05");
        bench.enter("0.1");
        bench.enter("0.1");
        bench.enter("0");
        CHECK(bench.acts() == acts + 2);
        CHECK(bench.workshop.instruments().scales.at("S3").limit_of_error == 0.1 * grain);
        bench.perform("undo");
        bench.perform("undo");
        CHECK_FALSE(bench.workshop.instruments().scales.contains("S3"));
        CHECK(bench.desk.view().has_instrument);
    }

    TEST_CASE("what is wrong stands beside its field, and nothing is done") {
        Bench bench;
        const auto acts = bench.acts();
        bench.perform("new instrument");
        for (const char* text : {"S2", "0.1", "0", "0"}) bench.enter(text);
        says(bench.desk.view().figures.code.error, "there is a scale S2 already");
        CHECK(bench.desk.form().spot == Spot::new_code);
        for (const char* text : {"S4", "0,1", "0", "0"}) bench.enter(text);
        CHECK_FALSE(bench.desk.view().figures.resolution.error.empty());
        CHECK(bench.acts() == acts);
    }

    TEST_CASE("what a check found is shown to six figures and stays what it is") {
        Bench bench;
        read_two_weights(bench);
        bench.perform("save");
        const auto found = bench.scale().repeatability;
        bench.perform("figures");
        bench.enter("0.05");
        bench.perform("save");
        CHECK(bench.scale().resolution == 0.05 * grain);
        CHECK(bench.scale().repeatability == found);
        bench.perform("figures");
        text_at(bench.desk.form(), Spot::scatter) = "0.5";
        bench.perform("save");
        says(bench.desk.view().figures.scatter.error, "it was checked on");
    }
}

TEST_SUITE("Soft coatings") {
    TEST_CASE("what is missing to find the squeeze is said") {
        Bench bench;
        const auto coil = app::add_coil(bench.workshop, "A3").value();
        for (const auto& [field, text] : {std::pair{ReadingField::diameters, "0.8 mm"},
                                          {ReadingField::sample_length, "10 ft"},
                                          {ReadingField::sample_weight, "110 gr"}}) {
            REQUIRE(app::record_reading(bench.workshop, coil, field, text).has_value());
        }
        bench.shared.refresh();
        bench.post(ChooseInstrument{{app::InstrumentKind::micrometer, ""}});
        bench.desk.look_round();
        CHECK_FALSE(bench.desk.view().about.can_find_squeeze);
        says(bench.desk.view().about.squeeze, "Three are missing. A3 lacks only the weighing");
        const auto acts = bench.acts();
        bench.perform("squeeze");
        CHECK(bench.acts() == acts);
    }

    TEST_CASE("with three coils weighed under water it is found, in one act") {
        Bench bench;
        for (const char* code : {"A1", "A2", "A3"}) {
            const auto coil = app::add_coil(bench.workshop, code).value();
            // 110 gr of 10 ft at 4 g/cm3 is 0.8627 mm thick: 2.3385 g/m, d = √(4 · 0.58464/π).
            for (const auto& [field, text] : {std::pair{ReadingField::diameters, "0.843 mm"},
                                              {ReadingField::sample_length, "10 ft"},
                                              {ReadingField::sample_weight, "110 gr"},
                                              {ReadingField::submerged_weight, "82.5 gr"}}) {
                REQUIRE(app::record_reading(bench.workshop, coil, field, text).has_value());
            }
        }
        bench.shared.refresh();
        bench.post(ChooseInstrument{{app::InstrumentKind::micrometer, ""}});
        REQUIRE(bench.desk.view().about.can_find_squeeze);
        const auto acts = bench.acts();
        bench.perform("squeeze");
        CHECK(bench.acts() == acts + 1);
        says(bench.desk.view().about.squeeze, "On the coatings of 3 coils it reads too low by 0.0");
        CHECK(near(bench.workshop.instruments().micrometers.at("").offset, -0.0197 * millimetre,
                   0.001 * millimetre));
        // A check on hard pins does not take that away, and says so.
        bench.perform("check");
        for (const char* text : {"1", "0.001", "1.002", "1.002"}) bench.enter(text);
        says(bench.desk.view().result.sentences.at(3).words, "what it does to soft coatings");
        bench.perform("save");
        CHECK(near(bench.workshop.instruments().micrometers.at("").offset, -0.0197 * millimetre,
                   0.001 * millimetre));
    }
}
