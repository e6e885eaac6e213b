// The page's commands on real catalogues, without a window.
#include "bench/pages/bench/bench_desk.h"

#include <doctest/doctest.h>
#include <sys/resource.h>

#include <algorithm>
#include <atomic>
#include <csignal>
#include <filesystem>
#include <sstream>
#include <thread>

#include "app/coil_changes.h"
#include "app/coil_sheet.h"
#include "app/instrument_check.h"
#include "app/learning.h"
#include "bench/pages/bench/a_view.h"
#include "catalog/given_code.h"
#include "quantity/parse.h"
#include "support/a_second_scale.h"
#include "support/temporary_folder.h"
#include "support/trees.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;
namespace fs = std::filesystem;

namespace {

// A clock that ticks a second at every look, and ids that count.
app::Surroundings at_the_test_bench() {
    return {.now =
                [second = std::int64_t{1'700'000'000}]() mutable {
                    return Instant(std::chrono::seconds(++second));
                },
            .random =
                [count = std::uint8_t{0}]() mutable {
                    RandomBytes bytes{};
                    bytes.front() = bytes.back() = ++count;
                    return bytes;
                },
            .who = "tester",
            .program = "test"};
}

struct Seat {
    app::Workshop workshop = app::Workshop::in_memory(at_the_test_bench());
    SharedBin shared{workshop};
    Desk desk{shared};

    template <class Posted>
    const View& ask(Posted command) {
        desk.outbox().post(std::move(command));
        desk.act();
        return desk.view();
    }
    // Types into a field and presses Enter, as the drawing does.
    const View& type(ReadingField field, const char* text) {
        desk.form().typed.text(field) = text;
        enter_reading(desk.view(), desk.form(), field, desk.outbox());
        desk.act();
        return desk.view();
    }
    void measure_two_feet_of_t11() {
        type(ReadingField::sample_length, "24");
        type(ReadingField::sample_weight, "22.4");
        for (const char* diameter : {"0.842", "0.845", "0.848"}) {
            type(ReadingField::diameters, diameter);
        }
    }
};

std::vector<Reading> readings_of(app::Workshop& workshop, const char* code) {
    return app::current_readings(workshop, app::coil_by_code(workshop, code).value());
}
const ReadingRow& row(const View& view, ReadingField field) {
    return *std::ranges::find(view.readings, field, &ReadingRow::field);
}

}  // namespace

TEST_SUITE("Working at the bench") {
    TEST_CASE("an empty bin says how to begin") {
        Seat seat;
        CHECK_FALSE(seat.desk.view().has_coil);
        CHECK_FALSE(seat.desk.view().bin.nothing.empty());
    }

    TEST_CASE("a new code makes a coil only when it is entered twice") {
        Seat seat;
        seat.ask(EnterCode{"C3"});
        CHECK(seat.desk.view().bin.rows.empty());
        seat.ask(EnterCode{"C4"});  // another code asks anew
        CHECK(seat.desk.view().bin.rows.empty());
        seat.ask(EnterCode{"C4"});
        CHECK(seat.desk.view().coil_code == "C4");
        seat.ask(EnterCode{"two words"});
        seat.ask(EnterCode{"two words"});
        CHECK(seat.desk.view().bin.rows.size() == 1);
    }

    TEST_CASE("a known code picks its coil up, whatever its capitals") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.ask(MakeCoil{"A2"});
        seat.ask(EnterCode{"a1"});
        CHECK(seat.desk.view().coil_code == "A1");
        CHECK(seat.desk.form().code.empty());
    }

    TEST_CASE("from a new code to a confirmed coil") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        CHECK(seat.desk.view().coil_code == "A1");
        CHECK(seat.desk.form().spot == ReadingField::sample_length);
        seat.measure_two_feet_of_t11();
        const auto kept = readings_of(seat.workshop, "A1");
        REQUIRE(kept.size() == 5);
        CHECK(kept[1].as_written == "22.4 gr");

        const View& view = seat.desk.view();
        CHECK(view.verdict.confirms == "T-11");
        CHECK(view.verdict.facts[0].is_known);
        CHECK(view.verdict.facts[3].is_known);
        confirm(view, seat.desk.outbox());
        seat.desk.act();
        CHECK(seat.desk.view().coil_state.word == "confirmed");
        CHECK(seat.desk.view().verdict.headline == "T-11");
        CHECK(seat.desk.view().bin.summary == "1 coil, 1 confirmed");
    }

    TEST_CASE("what was entered stays in its field; several diameters empty theirs") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_weight, "1.45 g");
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "1.45 g");
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).is_saved);
        seat.type(ReadingField::diameters, "0.84");
        CHECK(seat.desk.form().typed.text(ReadingField::diameters).empty());
    }

    TEST_CASE("a corrected reading supersedes, an emptied one is taken back") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "24");
        seat.type(ReadingField::sample_length, "25");
        REQUIRE(readings_of(seat.workshop, "A1").size() == 1);
        CHECK(readings_of(seat.workshop, "A1")[0].as_written == "25 in");
        seat.type(ReadingField::sample_length, "");
        CHECK(readings_of(seat.workshop, "A1").empty());
    }

    TEST_CASE("a reading that makes no line together with the others is not kept, and says why") {
        Seat seat;
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "60");
        const View& view = seat.type(ReadingField::sample_weight, "9000");  // 9 kg
        says(row(view, ReadingField::sample_weight).error, "weight and length together");
        says(row(view, ReadingField::sample_weight).error, "0.00021 to 2125.9 g/m");
        CHECK(view.failure.empty());
        CHECK(readings_of(seat.workshop, "A1").size() == 1);
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "9000");
    }

    TEST_CASE("the last of several diameters can be taken back") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::diameters, "0.84");
        seat.type(ReadingField::diameters, "8.4");
        seat.ask(TakeBackReading{ReadingField::diameters});
        REQUIRE(readings_of(seat.workshop, "A1").size() == 1);
        CHECK(readings_of(seat.workshop, "A1")[0].as_written == "0.84 mm");
        seat.ask(TakeBackReading{ReadingField::diameters});
        seat.ask(TakeBackReading{ReadingField::diameters});  // nothing left
        CHECK(seat.desk.form().typed.problem(ReadingField::diameters).has_value());
    }

    TEST_CASE("the last change is undone and done again, and the fields follow") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "24");
        seat.type(ReadingField::sample_length, "25");
        const auto& typed = seat.desk.form().typed;
        seat.ask(Undo{});
        CHECK(readings_of(seat.workshop, "A1")[0].as_written == "24 in");
        CHECK(typed.text(ReadingField::sample_length) == "24");
        seat.ask(Undo{});
        CHECK(readings_of(seat.workshop, "A1").empty());
        CHECK(typed.text(ReadingField::sample_length).empty());
        seat.ask(Redo{});
        CHECK(typed.text(ReadingField::sample_length) == "24");
        const View& again = seat.ask(Redo{});
        CHECK(typed.text(ReadingField::sample_length) == "25");
        CHECK(again.message.starts_with("Done again"));
        CHECK(seat.ask(Redo{}).message.find("again") != std::string::npos);  // says there is none
    }

    TEST_CASE("undoing a coil puts it down, and what is typed in another field stays") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "24");
        seat.desk.form().typed.text(ReadingField::sample_weight) = "22";
        seat.ask(Undo{});
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "22");
        const View& view = seat.ask(Undo{});
        CHECK_FALSE(view.has_coil);
        CHECK(view.bin.rows.empty());
        CHECK(seat.desk.form().spot.is_code());
        CHECK(seat.ask(Redo{}).bin.rows.size() == 1);
    }

    TEST_CASE("a confirmation is undone, and the class forgets it") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.measure_two_feet_of_t11();
        const auto before = seat.workshop.library();
        seat.ask(Confirm{"T-11"});
        CHECK(seat.workshop.library() != before);
        seat.ask(Undo{});
        CHECK(seat.workshop.library() == before);
        CHECK_FALSE(seat.desk.view().verdict.may_take_back);
    }

    TEST_CASE("a confirmation that looks wrong beside the others is said to") {
        Seat seat;
        for (const char* code : {"A1", "A2", "A3", "A4"}) {
            seat.ask(MakeCoil{code});
            seat.measure_two_feet_of_t11();
            seat.ask(Confirm{"T-11"});
            CHECK(seat.desk.view().verdict.because.front().find("looks wrong") ==
                  std::string::npos);
        }
        seat.ask(MakeCoil{"B1"});
        seat.type(ReadingField::sample_length, "24");
        seat.type(ReadingField::sample_weight, "28.2");
        for (const char* diameter : {"0.942", "0.945", "0.948"}) {
            seat.type(ReadingField::diameters, diameter);
        }
        const View& view = seat.ask(Confirm{"T-11"});
        CAPTURE(view.verdict.because.front());
        CHECK(view.verdict.because.front() ==
              app::doubt_about(seat.workshop, app::coil_by_code(seat.workshop, "B1")->id));
        CHECK_FALSE(view.verdict.because.front().empty());
    }

    TEST_CASE("any reading can be taken back, and its field is empty then") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "24");
        go_to(seat.desk.form(), ReadingField::sample_length);
        take_back(seat.desk.view(), seat.desk.form(), seat.desk.outbox());
        seat.desk.act();
        CHECK(readings_of(seat.workshop, "A1").empty());
        CHECK(seat.desk.form().typed.text(ReadingField::sample_length).empty());
        CHECK(seat.desk.form().spot == ReadingField::sample_length);
    }

    TEST_CASE("a number in place of a refused one is told, for it may be the next device's") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "24,5");
        CHECK(readings_of(seat.workshop, "A1").empty());
        seat.type(ReadingField::sample_length, "22.4");
        CHECK(seat.desk.view().message == "Saved: sample length of A1 22.4 in, in place of '24,5'");
    }

    TEST_CASE("notes are kept with the coil, and those not saved wait with it") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.desk.form().typed.notes = "loop at one end";
        enter_notes(seat.desk.view(), seat.desk.form(), seat.desk.outbox());
        seat.desk.act();
        CHECK(app::coil_by_code(seat.workshop, "A1")->notes == "loop at one end");
        CHECK(seat.desk.view().notes.stored == "loop at one end");
        CHECK_FALSE(seat.desk.has_unsaved());
        seat.desk.form().typed.notes = "two loops";
        CHECK(seat.desk.has_unsaved());
        seat.ask(MakeCoil{"A2"});
        CHECK(seat.desk.form().typed.notes.empty());
        seat.ask(EnterCode{"A1"});
        CHECK(seat.desk.form().typed.notes == "two loops");
    }

    TEST_CASE("readings are kept with the instrument that is on the bench") {
        Seat seat;
        app::put_second_scale(seat.workshop);
        SharedBin shared(seat.workshop);
        Desk desk(shared);
        desk.outbox().post(MakeCoil{"A1"});
        desk.act();
        use_next(desk.view(), desk.form(), Tool::scale);
        desk.outbox().post(saving(ReadingField::sample_weight, "22.4"));
        desk.outbox().post(saving(ReadingField::sample_length, "24"));
        desk.act();
        const auto kept = readings_of(seat.workshop, "A1");
        REQUIRE(kept.size() == 2);
        CHECK(kept[0].instrument == "S2");
        CHECK(kept[1].instrument.empty());
    }

    TEST_CASE("what is typed and not saved waits while another coil is in hand") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        const Id<Coil> first = seat.desk.view().bin.rows[0].id;
        seat.desk.form().typed.text(ReadingField::sample_length) = "23.5";
        seat.ask(MakeCoil{"A2"});
        CHECK(seat.desk.form().typed.text(ReadingField::sample_length).empty());
        seat.ask(ChooseCoil{first});
        CHECK(seat.desk.form().typed.text(ReadingField::sample_length) == "23.5");
        CHECK(readings_of(seat.workshop, "A1").empty());
    }

    TEST_CASE("the next coil is the next one that is not confirmed") {
        Seat seat;
        for (const char* code : {"A1", "A2", "A3"}) seat.ask(MakeCoil{code});
        seat.ask(NextCoil{});
        CHECK(seat.desk.view().coil_code == "A1");
        seat.measure_two_feet_of_t11();
        seat.ask(Confirm{"T-11"});
        seat.ask(NextCoil{});
        CHECK(seat.desk.view().coil_code == "A2");
        seat.ask(NextCoil{});
        seat.ask(NextCoil{});
        CHECK(seat.desk.view().coil_code == "A2");  // A1 is done
    }

    TEST_CASE("walking through the bin goes to neighbours, as filtered, and stops at its ends") {
        Seat seat;
        for (const char* code : {"A1", "B1", "A2"}) seat.ask(MakeCoil{code});
        seat.desk.form().code = "a";
        seat.ask(StepCoil{-1});
        CHECK(seat.desk.view().coil_code == "A1");
        seat.ask(StepCoil{-1});
        CHECK(seat.desk.view().coil_code == "A1");
        seat.desk.form().code = "1";
        seat.ask(StepCoil{1});
        CHECK(seat.desk.view().coil_code == "B1");
    }

    TEST_CASE("a confirmation can be taken back") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.measure_two_feet_of_t11();
        seat.ask(Confirm{"T-11"});
        CHECK(seat.desk.view().verdict.may_take_back);
        seat.ask(TakeBackConfirmation{});
        CHECK_FALSE(seat.desk.view().verdict.may_take_back);
        CHECK(seat.desk.view().coil_state.word != "confirmed");
    }

    TEST_CASE("what the person wants to know goes round, and the catalogue keeps it") {
        Seat seat;
        CHECK(seat.desk.view().question.answer == "Which line");
        seat.ask(AskNext{});
        CHECK(seat.desk.view().question.answer == "Only its grain class");
        seat.ask(AskNext{});
        seat.ask(AskNext{});  // without a coil there is nothing to compare with
        CHECK(seat.desk.view().question.answer == "Which line");
        seat.ask(MakeCoil{"A1"});
        seat.measure_two_feet_of_t11();
        for (int turn = 0; turn < 3; ++turn) seat.ask(AskNext{});
        CHECK(seat.desk.view().question.answer == "Fishes like T-11?");
        seat.ask(AskInOtherOrder{});
        CHECK(seat.desk.view().question.order == "Quickest-telling first");
        SharedBin tomorrow(seat.workshop);
        Desk next_day(tomorrow);
        CHECK(next_day.view().question.answer == "Fishes like T-11?");
        CHECK(next_day.view().question.order == "Quickest-telling first");
    }

    TEST_CASE("a code that is taken makes no second coil") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.ask(MakeCoil{"A1"});
        CHECK(seat.desk.view().bin.rows.size() == 1);
        CHECK_FALSE(seat.desk.view().failure.empty());
        seat.ask(CloseFailure{});
        CHECK(seat.desk.view().failure.empty());
    }

    TEST_CASE("what another program writes is seen") {
        const fs::path file = build_tree() / "desk_two_doors.coilbook";
        fs::remove(file);
        app::Workshop one = app::Workshop::create(file, at_the_test_bench());
        SharedBin shared(one);
        Desk desk(shared);
        app::Workshop other = app::Workshop::open(file, app::real_surroundings("test"));
        REQUIRE(app::add_coil(other, "Z9"));
        CHECK(desk.look_round(std::chrono::milliseconds(50)));
        REQUIRE(desk.view().bin.rows.size() == 1);
        CHECK(desk.view().bin.rows[0].code == "Z9");
        CHECK_FALSE(desk.look_round(std::chrono::milliseconds(50)));
    }

    TEST_CASE("what another program is just writing is waited for, and then saved") {
        const fs::path file = build_tree() / "desk_waits.coilbook";
        for (const char* end : {"", "-wal", "-shm"}) fs::remove(file.string() + end);
        app::Workshop workshop = app::Workshop::create(file, at_the_test_bench());
        SharedBin shared(workshop);
        Desk desk(shared);
        std::atomic<bool> is_writing = false;
        std::thread other([&] {
            app::Workshop busy = app::Workshop::open(file, app::real_surroundings("test"));
            busy.catalogue().act(busy.note("take long"), [&](store::Act&) {
                is_writing = true;
                std::this_thread::sleep_for(std::chrono::milliseconds(300));
            });
        });
        while (!is_writing) std::this_thread::yield();
        desk.outbox().post(MakeCoil{"A1"});
        desk.act();
        other.join();
        CHECK(desk.view().failure.empty());
        REQUIRE(desk.view().bin.rows.size() == 1);
        CHECK(desk.view().bin.rows[0].code == "A1");
    }

    TEST_CASE("one that does not end is named after five seconds, and nothing typed is lost") {
        const fs::path file = build_tree() / "desk_busy.coilbook";
        for (const char* end : {"", "-wal", "-shm"}) fs::remove(file.string() + end);
        app::Workshop workshop = app::Workshop::create(file, at_the_test_bench());
        SharedBin shared(workshop);
        Desk desk(shared);
        desk.outbox().post(MakeCoil{"A1"});
        desk.act();
        app::Workshop busy = app::Workshop::open(file, app::real_surroundings("test"));
        busy.catalogue().act(busy.note("never end"), [&](store::Act&) {
            desk.form().typed.text(ReadingField::sample_weight) = "22.4";
            enter_reading(desk.view(), desk.form(), ReadingField::sample_weight, desk.outbox());
            desk.act();
        });
        CHECK(desk.view().failure.find("another program") != std::string::npos);
        CHECK(desk.form().typed.text(ReadingField::sample_weight) == "22.4");
        enter_reading(desk.view(), desk.form(), ReadingField::sample_weight, desk.outbox());
        desk.act();
        CHECK(readings_of(workshop, "A1").size() == 1);
    }

    TEST_CASE("verdicts of the whole bin come in by and by") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.measure_two_feet_of_t11();
        SharedBin again(seat.workshop);
        Desk second(again);  // as after a new start: nothing is in hand
        CHECK(second.is_busy());
        while (second.is_busy()) second.look_round(std::chrono::milliseconds(5));
        CHECK(second.view().bin.rows[0].what.starts_with("T-11"));
    }

    TEST_CASE("a code is given, and never a number") {
        Seat seat;
        const View& view = seat.ask(GiveCode{});
        REQUIRE(view.has_coil);
        CHECK(is_given_code(view.coil_code));
        CHECK_FALSE(parse_number(view.coil_code).has_value());
        CHECK(seat.desk.form().spot == bench_order.front());
    }

    TEST_CASE("a code that is scanned in the middle of an entry picks that coil up") {
        Seat seat;
        const std::string first = seat.ask(GiveCode{}).coil_code;
        const std::string second = seat.ask(GiveCode{}).coil_code;
        REQUIRE(seat.desk.view().coil_code == second);

        seat.type(ReadingField::sample_weight, first.c_str());
        CHECK(seat.desk.view().coil_code == first);
        // Behind something that was typed and not saved, which waits with its coil.
        seat.type(ReadingField::sample_weight, ("12." + second).c_str());
        CHECK(seat.desk.view().coil_code == second);
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight).empty());
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).error.empty());
        CHECK(seat.ask(EnterCode{first}).coil_code == first);
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "12.");
        CHECK(readings_of(seat.workshop, first.c_str()).empty());

        seat.desk.form().typed.notes = "loop wo" + second;
        enter_notes(seat.desk.view(), seat.desk.form(), seat.desk.outbox());
        seat.desk.act();
        CHECK(seat.desk.view().coil_code == second);
        // A note may name another coil.
        seat.desk.form().typed.notes = "same spool as " + first;
        enter_notes(seat.desk.view(), seat.desk.form(), seat.desk.outbox());
        seat.desk.act();
        CHECK(seat.desk.view().coil_code == second);
        CHECK(app::coil_by_code(seat.workshop, second)->notes == "same spool as " + first);
    }

    TEST_CASE("the space bar times a drop, and Enter saves the time") {
        auto workshop = app::Workshop::in_memory(at_the_test_bench());
        SharedBin shared(workshop);
        std::chrono::steady_clock::time_point now{};
        Desk desk(shared, [&] { return now; });
        const auto ask = [&](Command command) {
            desk.outbox().post(std::move(command));
            desk.act();
        };
        ask(MakeCoil{"A1"});
        desk.look_round(std::chrono::seconds(1));
        CHECK_FALSE(desk.is_busy());
        ask(PressStopwatch{});
        CHECK(desk.is_busy());
        CHECK(row(desk.view(), ReadingField::sink_time).is_running);
        now += std::chrono::milliseconds(3210);
        CHECK(desk.look_round({}));
        CHECK(row(desk.view(), ReadingField::sink_time).hint == "3.2");
        CHECK_FALSE(desk.look_round({}));  // nothing new is to be shown
        now += std::chrono::milliseconds(219);
        ask(PressStopwatch{});
        CHECK_FALSE(desk.is_busy());
        CHECK(desk.form().typed.text(ReadingField::sink_time) == "3.43");
        CHECK(readings_of(workshop, "A1").empty());
        enter_reading(desk.view(), desk.form(), ReadingField::sink_time, desk.outbox());
        desk.act();
        REQUIRE(readings_of(workshop, "A1").size() == 1);
        CHECK(readings_of(workshop, "A1")[0].as_written == "3.43 s");

        ask(PressStopwatch{});
        ask(DropStopwatch{});
        CHECK(desk.form().typed.text(ReadingField::sink_time) == "3.43");
        CHECK_FALSE(desk.is_busy());
    }

    TEST_CASE("a weight in the wrong unit is corrected by one key, and undone by one") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "24");
        seat.type(ReadingField::sample_weight, "1.45");  // grams, typed where grains are meant
        for (const char* diameter : {"0.842", "0.845", "0.848"}) {
            seat.type(ReadingField::diameters, diameter);
        }
        REQUIRE(seat.desk.view().verdict.correct_units == "It was grams");
        const View& view = seat.ask(CorrectUnits{});
        CHECK(view.verdict.correct_units.empty());
        CHECK(view.verdict.headline.starts_with("T-11"));
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "1.45 g");
        CHECK(seat.ask(Undo{}).verdict.correct_units == "It was grams");
    }

    TEST_CASE("a diameter that is far off is marked, and one key takes it back") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        for (const char* diameter : {"0.842", "0.845", "0.848", "0.481", "0.844", "0.846"}) {
            seat.type(ReadingField::diameters, diameter);
        }
        const ReadingRow& marked = row(seat.desk.view(), ReadingField::diameters);
        REQUIRE(marked.odd.has_value());
        CHECK(mentions(marked.note, "0.481"));
        take_back_odd(seat.desk.view(), seat.desk.outbox());
        seat.desk.act();
        CHECK_FALSE(row(seat.desk.view(), ReadingField::diameters).odd.has_value());
        CHECK(readings_of(seat.workshop, "A1").size() == 5);
        CHECK(mentions(row(seat.desk.view(), ReadingField::diameters).note, "mean 0.845 of 5"));
    }

    TEST_CASE("a label is written beside the catalogue, and never over another file") {
        const TemporaryFolder folder;
        app::Workshop workshop =
            app::Workshop::create(folder / "bin.coilbook", at_the_test_bench());
        SharedBin shared(workshop);
        Desk desk(shared);
        for (const char* file : {"bin-label-A1.pdf", "bin-label-A1-2.pdf"}) {
            if (desk.view().has_coil) {
                desk.outbox().post(WriteLabel{});
            } else {
                desk.outbox().post(MakeCoil{"A1"});
                desk.outbox().post(WriteLabel{});
            }
            desk.act();
            CHECK(mentions(desk.view().message, file));
            CHECK(fs::file_size(folder / file) > 1000);
        }
    }

    TEST_CASE("a full disk is told in words, and nothing typed is lost") {
        const fs::path file = build_tree() / "desk_full_disk.coilbook";
        for (const char* end : {"", "-wal", "-shm"}) fs::remove(file.string() + end);
        app::Workshop workshop = app::Workshop::create(file, at_the_test_bench());
        SharedBin shared(workshop);
        Desk desk(shared);
        desk.outbox().post(MakeCoil{"A1"});
        desk.act();

        // No file of this process may grow beyond what there is now: the write fails as on a full
        // disk.
        std::signal(SIGXFSZ, SIG_IGN);
        rlimit before{};
        REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
        const rlimit none{0, before.rlim_max};
        REQUIRE(setrlimit(RLIMIT_FSIZE, &none) == 0);
        desk.form().typed.text(ReadingField::sample_weight) = "22.4";
        enter_reading(desk.view(), desk.form(), ReadingField::sample_weight, desk.outbox());
        desk.act();
        REQUIRE(setrlimit(RLIMIT_FSIZE, &before) == 0);

        CHECK_FALSE(desk.view().failure.empty());
        CHECK(desk.form().typed.text(ReadingField::sample_weight) == "22.4");
        CHECK_FALSE(row(desk.view(), ReadingField::sample_weight).error.empty());
        CHECK(readings_of(workshop, "A1").empty());

        enter_reading(desk.view(), desk.form(), ReadingField::sample_weight, desk.outbox());
        desk.act();  // there is room again
        CHECK(readings_of(workshop, "A1").size() == 1);
        CHECK(row(desk.view(), ReadingField::sample_weight).error.empty());
    }
}

TEST_SUITE("Grains and feet, or grams and metres") {
    TEST_CASE(
        "what is kept stays as it was written, and shows its unit where another stands beside") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.measure_two_feet_of_t11();
        const auto before = readings_of(seat.workshop, "A1");
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).stored == "22.4");
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        const View& view = seat.desk.view();
        CHECK(row(view, ReadingField::sample_weight).unit == "g");
        CHECK(row(view, ReadingField::sample_weight).stored == "22.4 gr");
        CHECK(row(view, ReadingField::sample_weight).note == "= 1.451 g");
        CHECK(row(view, ReadingField::sample_length).note == "= 60.96 cm");
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "22.4 gr");
        CHECK_FALSE(seat.desk.has_unsaved());
        says(view.verdict.gist, "g/m, sinks ");
        says(view.verdict.gist, "cm/s");
        CHECK(view.verdict.facts[0].name == "Weight per metre");
        CHECK(view.verdict.picture.y_unit == "g/m");
        CHECK(readings_of(seat.workshop, "A1") == before);
        seat.shared.show_in(grains_and_feet);
        seat.desk.look_round({});
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "22.4");
        CHECK_FALSE(seat.desk.has_unsaved());
    }

    TEST_CASE("a bare number is of the unit beside the field, a typed unit wins, both are kept") {
        Seat seat;
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        seat.ask(MakeCoil{"A1"});
        seat.type(ReadingField::sample_length, "61");
        const View& view = seat.type(ReadingField::sample_weight, "1.45");
        CHECK(view.message == "Saved: sample weight of A1 1.45 g");
        CHECK(view.verdict.next_field.has_value());
        seat.type(ReadingField::whole_weight, "170 gr");
        const auto kept = readings_of(seat.workshop, "A1");
        REQUIRE(kept.size() == 3);
        CHECK(kept[0].as_written == "61 cm");
        CHECK(kept[1].as_written == "1.45 g");
        CHECK(kept[2].as_written == "170 gr");
        says(seat.type(ReadingField::whole_length, "-1").readings[10].error, "such as 61 cm");
    }

    TEST_CASE("a number that is typed and not saved keeps its unit when the person changes units") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.desk.form().typed.text(ReadingField::sample_weight) = "22.4";
        seat.desk.form().typed.text(ReadingField::diameters) = "0.84";
        seat.ask(MakeCoil{"A2"});
        seat.desk.form().typed.text(ReadingField::sample_weight) = "30";
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        CHECK(seat.desk.view().coil_code == "A2");
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "30 gr");
        seat.ask(EnterCode{"A1"});
        CHECK(seat.desk.form().typed.text(ReadingField::sample_weight) == "22.4 gr");
        CHECK(seat.desk.form().typed.text(ReadingField::diameters) == "0.84");  // mm in either
        enter_reading(seat.desk.view(), seat.desk.form(), ReadingField::sample_weight,
                      seat.desk.outbox());
        seat.desk.act();
        CHECK(readings_of(seat.workshop, "A1").front().as_written == "22.4 gr");
    }

    TEST_CASE("Enter and the change of units in one frame: what stood beside the field counts") {
        Seat seat;
        seat.ask(MakeCoil{"A1"});
        seat.desk.form().typed.text(ReadingField::sample_weight) = "22.4";
        enter_reading(seat.desk.view(), seat.desk.form(), ReadingField::sample_weight,
                      seat.desk.outbox());
        seat.shared.show_in(grams_and_metres);
        seat.desk.act();
        CHECK(readings_of(seat.workshop, "A1").front().as_written == "22.4 gr");
    }

    TEST_CASE("a scale that was checked in grams types grams, whatever the person reads in") {
        Seat seat;
        app::put_second_scale(seat.workshop);
        std::istringstream checks(
            "instrument,kind,standard [g],standard_u [g],reading [g]\n"
            "S2,scale,1,0.001,1.002\nS2,scale,5,0.001,5.001\nS2,scale,10,0.001,10.002\n");
        std::ostringstream told;
        REQUIRE(app::check_instruments(seat.workshop, checks, "checks.csv", told, app::Format::csv)
                    .has_value());
        seat.shared.refresh();
        seat.desk.look_round({});
        seat.ask(MakeCoil{"A1"});
        seat.desk.form().typed.text(ReadingField::whole_weight) = "170";
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).unit == "gr");
        use_next(seat.desk.view(), seat.desk.form(), Tool::scale);
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).unit == "g");
        CHECK(seat.desk.form().typed.text(ReadingField::whole_weight) == "170 gr");
        seat.type(ReadingField::sample_weight, "1.45");
        CHECK(readings_of(seat.workshop, "A1").front().as_written == "1.45 g");
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round({});
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).unit == "g");
        CHECK(row(seat.desk.view(), ReadingField::sample_weight).stored == "1.45");
    }
}
