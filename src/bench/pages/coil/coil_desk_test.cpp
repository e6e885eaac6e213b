#include "bench/pages/coil/coil_desk.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/outfit.h"
#include "app/undo.h"
#include "support/a_photograph.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::coil_page;

namespace {

// A catalogue with a measured coil A7, another one B2, and the page before it.
struct Seat {
    TemporaryFolder folder;
    app::Workshop workshop = app::workshop_in_memory();
    Coil coil = app::add_coil(workshop, "A7", "from the drift boat").value();
    Coil other = app::add_coil(workshop, "B2").value();
    SharedBin shared{workshop};
    Desk desk{shared};

    Seat() {
        read(ReadingField::sample_length, "24 in");
        read(ReadingField::sample_weight, "22.4 gr");
        read(ReadingField::diameters, "0.85 mm");
        shared.refresh();
        desk.look_round();
    }
    void read(ReadingField field, const char* text) {
        REQUIRE(app::record_reading(workshop, coil, field, text).has_value());
    }
    template <class Posted>
    const View& after(Posted posted) {
        desk.outbox().post(std::move(posted));
        desk.act();
        return desk.view();
    }
    std::string photograph(const char* name, int width) {
        write_bytes(folder / name, a_png(width, 20));
        return (folder / name).string();
    }
};

}  // namespace

TEST_SUITE("The page of one coil") {
    TEST_CASE("before there is a coil it says what to do, and a code leads to one") {
        Seat seat;
        CHECK_FALSE(seat.desk.view().has_coil);
        CHECK(mentions(seat.desk.view().nothing, "Scan or type a code"));
        const auto& view = seat.after(EnterCode{"A7"});
        REQUIRE(view.has_coil);
        CHECK(view.who.code == "A7");
        CHECK(view.title == "Coil A7");
        CHECK(seat.desk.form().notes == "from the drift boat");
        seat.after(EnterCode{"A8"});
        REQUIRE(seat.desk.form().problem.has_value());
        CHECK(mentions(seat.desk.form().problem->sentence, "no coil 'A8'"));
        CHECK(seat.desk.coil_at() == seat.coil.id);
    }

    TEST_CASE("every figure says where it comes from") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        CHECK(seat.desk.view().facts[0].value == "11.200 ± 0.034 gr/ft");
        CHECK(seat.desk.view().source.title == "Weight per foot: where it comes from");
        seat.desk.form().fact = 2;
        const auto& source = seat.desk.view().source;
        CHECK(source.title == "Density: where it comes from");
        CHECK(source.readings.size() == 3);
        REQUIRE_FALSE(source.budget.empty());
        CHECK(source.budget[0].origin == "coating, squeezed");
        CHECK(source.budget[0].amount == "93 %");
        seat.after(ChooseCoil{seat.other.id});
        CHECK(seat.desk.view().facts[2].value == "not known yet");
        CHECK_FALSE(seat.desk.view().source.lacks.empty());
        CHECK(seat.desk.view().sink.plot.courses.empty());
    }

    TEST_CASE("how it sinks is a plot and a table of the same numbers") {
        Seat seat;
        const auto& sink = seat.after(ChooseCoil{seat.coil.id}).sink;
        REQUIRE(sink.plot.courses.size() == 2);
        CHECK(sink.plot.courses[0].points.size() == 26);
        REQUIRE(sink.rows.size() == 6);
        CHECK(sink.rows[2].temperature == "10 °C");
        CHECK(sink.rows[2].fresh == "7.07 ± 0.25");
        CHECK(mentions(sink.plot.courses[0].points[10].readout, "fresh 7.07 ± 0.25 in/s"));
    }

    TEST_CASE("in grams and metres figures, plot and table follow; what was written stays") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        seat.shared.show_in(grams_and_metres);
        seat.desk.look_round();
        const auto& view = seat.desk.view();
        CHECK(view.facts[0].name == "Weight per metre");
        CHECK(view.facts[0].value == "2.3811 ± 0.0073 g/m");
        CHECK(view.source.readings[1].written == "22.4 gr");
        CHECK(view.sink.plot.y_label == "Sink rate, cm/s");
        CHECK(view.sink.heads.fresh == "fresh, cm/s");
        CHECK(view.sink.rows[2].fresh == "17.95 ± 0.64");
        CHECK(mentions(view.who.gist, "sinks 17.95 ± 0.64 cm/s"));
        for (const auto& fact : view.facts) CHECK_MESSAGE(!fact.help.empty(), fact.name);
        CHECK_FALSE(view.sink.help.empty());
        CHECK_FALSE(view.source.budget_help.empty());
        CHECK_FALSE(view.who.certainty_help.empty());
    }

    TEST_CASE("notes are saved, also when the page goes on to another coil") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        CHECK_FALSE(seat.desk.has_unsaved());
        seat.desk.form().notes = "mended loop";
        CHECK(seat.desk.has_unsaved());
        seat.after(SaveNotes{"mended loop"});
        CHECK(app::coil_by_code(seat.workshop, "A7")->notes == "mended loop");
        seat.desk.form().notes = "and more";
        seat.after(StepCoil{1});
        CHECK(seat.desk.view().who.code == "B2");
        CHECK(app::coil_by_code(seat.workshop, "A7")->notes == "and more");
        CHECK(seat.desk.form().notes.empty());
        seat.after(Undo{});
        CHECK(app::coil_by_code(seat.workshop, "A7")->notes == "mended loop");
    }

    TEST_CASE("a condition is noted with who and when, and is good again later") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        CHECK(mentions(seat.desk.view().care.nothing, "Nothing is wrong"));
        const auto& noted = seat.after(NoteCondition{Wear::worn_through, "a foot from the end"});
        REQUIRE(noted.care.now.size() == 1);
        CHECK(noted.care.now[0].words == "2026-01-01, test: a foot from the end");
        CHECK_FALSE(noted.care.caution.empty());
        CHECK(noted.history[0].what == "note of coil A7: worn through");
        const auto& mended = seat.after(NoteGoodAgain{Wear::worn_through});
        CHECK(mended.care.now.empty());
        CHECK(mended.care.before.size() == 2);
        const auto& refused = seat.after(NoteCondition{Wear::other, ""});
        CHECK(refused.care.now.empty());
        REQUIRE(seat.desk.form().problem.has_value());
        CHECK(seat.desk.form().spot == Spot::condition_note);
        CHECK(seat.after(Undo{}).care.now.size() == 1);
    }

    TEST_CASE("photographs: the last one is shown, the one before on asking, and each put away") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        CHECK(seat.desk.view().photo.photo == nullptr);
        CHECK(mentions(seat.desk.view().photo.nothing, "Drop a photograph"));
        seat.after(AddPhotograph{seat.photograph("a.png", 30)});
        const auto& two = seat.after(AddPhotograph{seat.photograph("b.png", 40)});
        REQUIRE(two.photo.photo != nullptr);
        CHECK(two.photo.photo->width == 40);
        CHECK(two.photo.caption == "1 of 2, 2026-01-01, test");
        seat.desk.form().photo = 1;
        CHECK(seat.desk.view().photo.photo->width == 30);
        const auto& one = seat.after(PutPhotographAway{});
        CHECK(one.photo.photo->width == 40);
        CHECK_FALSE(one.photo.has_more);
        seat.after(AddPhotograph{(seat.folder / "none.png").string()});
        CHECK(mentions(seat.desk.view().failure, "is not a file"));
        seat.after(ChooseCoil{seat.other.id});
        CHECK(seat.desk.view().photo.photo == nullptr);
    }

    TEST_CASE("where it is follows custody, with the last handovers") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        CHECK(seat.desk.view().who.place == "in the bin");
        REQUIRE(app::add_boat(seat.workshop, "Heron", 3, "").has_value());
        REQUIRE(app::hand_over(seat.workshop, {Whereabouts::boat, "Heron", {}, {}, {"A7"}})
                    .has_value());
        seat.shared.refresh();
        CHECK(seat.desk.look_round());
        CHECK(seat.desk.view().who.place == "with boat Heron");
        CHECK(seat.desk.view().who.steps.size() == 1);
        CHECK(mentions(seat.desk.view().history[0].what, "hand A7 out to Heron"));
    }

    TEST_CASE("it goes to the bench with its coil, and comes along from elsewhere") {
        Seat seat;
        seat.desk.follow(seat.other.id);
        CHECK(seat.desk.coil_at() == seat.other.id);
        CHECK(seat.desk.view().who.code == "B2");
        seat.after(TakeToTheBench{});
        CHECK(seat.desk.take_trip() == seat.other.id);
        CHECK_FALSE(seat.desk.take_trip().has_value());
    }

    TEST_CASE("a coil that is gone leaves the page empty, not broken") {
        Seat seat;
        seat.after(ChooseCoil{seat.coil.id});
        REQUIRE(
            app::hand_over(seat.workshop, {Whereabouts::retired, "", {}, {}, {"A7"}}).has_value());
        seat.shared.refresh();
        seat.desk.look_round();
        CHECK_FALSE(seat.desk.view().has_coil);
        seat.after(NoteGoodAgain{Wear::hinge});
        CHECK(seat.desk.view().failure.empty());
    }
}
