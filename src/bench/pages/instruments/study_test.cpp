// A study of readings on the page.
#include <doctest/doctest.h>

#include <filesystem>

#include "quantity/print.h"
#include "support/an_instrument.h"
#include "support/near.h"
#include "support/temporary_folder.h"
#include "support/ten_parts.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::instruments_page;

TEST_SUITE("A study on the page") {
    // The crossed study of ten parts, three people, three times: metrology/gauge_study_test.cpp.
    TEST_CASE("the industry's ten parts come out as on the command line, whatever the order") {
        Bench bench;
        bench.perform("study");
        for (const char* text : {"A B C", "1 2 3 4 5 6 7 8 9 10", "3"}) bench.enter(text);
        StudyDraft& study = bench.desk.form().study;
        REQUIRE(study.turns.size() == 90);
        while (!study.is_done()) {
            const auto turn = study.turns[study.readings.size()];
            const auto column = turn.person * 3 + static_cast<std::size_t>(turn.time - 1);
            bench.enter(exact(ten_parts[turn.coil][column]));
        }
        const auto& view = bench.desk.view().study;
        REQUIRE(view.is_done);
        says(view.judgement, "7.8 % comes from the gauge and its people: this will do");
        REQUIRE(view.parts.size() == 4);
        // 0.1999332² / 1.0852996² and 0.2268375² / 1.0852996², as there.
        CHECK(view.parts[0].share == doctest::Approx(0.033937).epsilon(1e-4));
        CHECK(view.parts[1].share == doctest::Approx(0.043685).epsilon(1e-4));
        CHECK(view.parts[2].share == 0.0);
        CHECK(view.parts[3].amount == "1.0 mm");
        CHECK(view.parts[3].percent == "92.2 %");
        // Each cell shows its three readings in the order in which they were read.
        const auto in_cell = [&](std::size_t coil, std::size_t person) {
            std::string words;
            for (const auto& each : view.table[coil].cells[person].readings) {
                words += each.text + " ";
            }
            return words;
        };
        CHECK(in_cell(0, 0) == "0.29 0.41 0.64 ");
        CHECK(in_cell(9, 2) == "-1.49 -1.77 -2.16 ");
    }

    TEST_CASE("nobody sees what was read until all is read") {
        Bench bench;
        bench.perform("study");
        bench.desk.form().study.is_shuffled = false;
        for (const char* text : {"Ann, Bob", "K1 K2", "2"}) bench.enter(text);
        CHECK(bench.desk.view().study.turn == "Ann reads K1");
        bench.enter("0.80");
        bench.enter("0.90");
        const auto& view = bench.desk.view().study;
        CHECK(view.turn == "Bob reads K1");
        CHECK(view.hand_over == "Hand it over to Bob.");
        CHECK(view.progress == "reading 3 of 8, first round");
        CHECK(view.table[0].cells[0].text == "●");
        CHECK(view.table[0].cells[1].at_hand);
        bench.enter("no");
        CHECK_FALSE(bench.desk.view().study.reading.error.empty());
        text_at(bench.desk.form(), Spot::study_reading).clear();
        bench.perform("take back");
        CHECK(bench.desk.view().study.turn == "Ann reads K2");
        CHECK(bench.desk.has_unsaved());
        bench.perform("back");
        CHECK(bench.desk.view().task == Task::look);
        bench.perform("study");
        CHECK(bench.desk.view().study.turn == "Ann reads K2");
    }

    TEST_CASE("a number that looks wrong is read once more, in its place") {
        Bench bench;
        bench.perform("study");
        bench.desk.form().study.is_shuffled = false;
        for (const char* text : {"Ann", "K1 K2", "2", "0.80", "9.0", "0.81", "0.92"}) {
            bench.enter(text);
        }
        REQUIRE(bench.desk.view().study.is_done);
        CHECK_FALSE(bench.desk.view().study.asks);
        read_again(bench.desk.form(), 1);
        CHECK(bench.desk.view().study.turn == "Ann reads K2");
        CHECK(bench.desk.view().study.progress == "once more, in place of 9.0 mm");
        bench.enter("0.90");
        CHECK(bench.desk.form().study.as_written ==
              std::vector<std::string>{"0.80", "0.90", "0.81", "0.92"});
        CHECK(bench.desk.view().study.table[1].cells[0].readings[0].text == "0.90");
    }

    TEST_CASE("what is missing stands beside its field") {
        Bench bench;
        bench.perform("study");
        CHECK_FALSE(bench.desk.view().study.can_begin);
        for (const char* text : {"Ann Ann", "K1", "1"}) bench.enter(text);
        CHECK_FALSE(bench.desk.view().study.is_going);
        says(bench.desk.view().study.people.error, "one name stands twice");
        says(bench.desk.view().study.times.error, "2 to 20");
        CHECK(bench.desk.form().spot == Spot::people);
        for (const char* text : {"Ann Bob", "K1 K2 K3", "3"}) bench.enter(text);
        CHECK(bench.desk.view().study.is_going);
    }

    TEST_CASE("it is written as a file that the command line takes") {
        const TemporaryFolder folder;
        Bench bench(app::Workshop::create(folder / "a.coilbook", app::foretold_surroundings()));
        bench.perform("study");
        bench.desk.form().study.is_shuffled = false;
        for (const char* text : {"Ann", "K1 K2", "2", "0.80", "0.90", "0.81", "0.92"}) {
            bench.enter(text);
        }
        REQUIRE(bench.desk.view().study.is_done);
        bench.perform("save");
        says(bench.desk.view().message, "study-2026-01-01-");
        CHECK_FALSE(bench.desk.has_unsaved());
        CHECK(bytes_of(bench.desk.form().study.kept_as) ==
              "coil,person,reading [mm]\nK1,Ann,0.80\nK2,Ann,0.90\nK1,Ann,0.81\nK2,Ann,0.92\n");
    }

    TEST_CASE("a study that the end of the window interrupts goes on at the next start") {
        const TemporaryFolder folder;
        const auto file = folder / "winter.coilbook";
        const auto kept = folder / "winter-study-unfinished.json";
        {
            Bench bench(app::Workshop::create(file, app::foretold_surroundings()));
            bench.perform("study");
            bench.desk.form().study.is_shuffled = false;
            for (const char* text : {"Ann, Bob", "K1 K2", "2"}) bench.enter(text);
            for (const char* text : {"0.80", "no", "0.90"}) {
                text_at(bench.desk.form(), Spot::study_reading).clear();
                bench.enter(text);
            }
            CHECK(std::filesystem::exists(kept));
        }  // the battery dies
        app::Workshop again = app::Workshop::open(file, app::foretold_surroundings());
        SharedBin shared(again);
        Desk desk(shared);
        says(desk.word_at_start(), "2 of 8 readings, by Ann and Bob");
        const auto perform = [&](std::string_view action) {
            instruments_page::perform(action,
                                      {desk.view(), desk.form(), desk.outbox(), desk.instrument()});
            desk.act();
        };
        perform("study");
        says(desk.view().study.unfinished, "2 of 8 readings");
        // Another one cannot be begun over it by mistake.
        desk.outbox().post(BeginStudy{});
        desk.act();
        says(desk.view().failure, "Go on with the study that is not finished");
        CHECK(std::filesystem::exists(kept));
        perform("go on with study");
        CHECK(desk.view().study.turn == "Bob reads K1");
        CHECK(desk.form().study.as_written == std::vector<std::string>{"0.80", "0.90"});
        for (int at = 0; at < 6; ++at) {
            text_at(desk.form(), Spot::study_reading) = at % 2 == 0 ? "0.81" : "0.92";
            enter_study_reading(desk.form());
            desk.act();
        }
        REQUIRE(desk.view().study.is_done);
        CHECK(std::filesystem::exists(kept));  // until it is written as what it is
        desk.outbox().post(KeepStudy{});
        desk.act();
        CHECK_FALSE(std::filesystem::exists(kept));
        CHECK(desk.word_at_start().empty());
    }

    TEST_CASE("an unfinished study is thrown away when somebody says so, and never by itself") {
        const TemporaryFolder folder;
        auto workshop =
            app::Workshop::create(folder / "winter.coilbook", app::foretold_surroundings());
        const auto kept = folder / "winter-study-unfinished.json";
        const app::UnfinishedStudy study{app::InstrumentKind::micrometer, "mm",    {"Ann"}, {"K1"},
                                         {{0, 0, 1}, {0, 0, 2}},          {"0.80"}};
        app::keep_unfinished(workshop, study);
        CHECK(app::unfinished_study(workshop).value() == study);
        SharedBin shared(workshop);
        {
            Desk desk(shared);
            desk.act();
            CHECK(std::filesystem::exists(kept));
            desk.outbox().post(ThrowUnfinishedAway{});
            desk.act();
            CHECK_FALSE(std::filesystem::exists(kept));
        }
        // What somebody else wrote there is told, and stays.
        const std::string whole = R"({"form":1,"kind":"micrometer","unit":"mm","people":["Ann"],)"
                                  R"("coils":["K1"],"turns":[[0,0,1]],"readings":["0.80"]})";
        for (const auto& [old, odd] : {std::pair{"[0,0,1]", "[0,3,1]"}, std::pair{"0.80", "heavy"},
                                       std::pair{"\"mm\"", "\"stone\""},
                                       std::pair{"form\":1", "form\":9"}, std::pair{"]}", ""}}) {
            auto text = whole;
            text.replace(text.find(old), std::string(old).size(), odd);
            write_bytes(kept, text);
            CHECK_FALSE(app::unfinished_study(workshop).has_value());
            const Desk desk(shared);
            CHECK(bytes_of(kept) == text);
        }
        write_bytes(kept, whole);
        CHECK(app::unfinished_study(workshop).value().has_value());
    }
}
