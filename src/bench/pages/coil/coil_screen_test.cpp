// The page, drawn without a window and driven by keys and mouse.
#include "bench/pages/coil/coil_screen.h"

#include <doctest/doctest.h>

#include <set>

#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "bench/pages/coil/coil_desk.h"
#include "bench/widgets/keys.h"
#include "support/a_photograph.h"
#include "support/robot.h"
#include "support/temporary_folder.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::coil_page;

namespace {

struct Seat {
    TemporaryFolder folder;
    app::Workshop workshop = app::workshop_in_memory();
    Coil coil = app::add_coil(workshop, "A7").value();
    Coil other = app::add_coil(workshop, "B2").value();
    SharedBin shared{workshop};
    Desk desk{shared};
    Robot robot;

    explicit Seat(float width = 1280, float height = 720, ThemeName theme = ThemeName::light,
                  float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  coil_page::draw(look, {desk.view(), desk.form(), desk.outbox()});
                  desk.act();
              },
              theme, scale) {
        REQUIRE(
            app::record_reading(workshop, coil, ReadingField::sample_length, "24 in").has_value());
        REQUIRE(app::record_reading(workshop, coil, ReadingField::sample_weight, "22.4 gr")
                    .has_value());
        REQUIRE(
            app::record_reading(workshop, coil, ReadingField::diameters, "0.85 mm").has_value());
        REQUIRE(
            app::note_condition(workshop, coil, Wear::worn_loop, true, "thick end").has_value());
        write_bytes(folder / "a.png", a_png(300, 200));
        REQUIRE(app::add_photograph(workshop, coil, folder / "a.png").has_value());
        shared.refresh();
        desk.look_round();
        robot.frames(8);
    }
};

}  // namespace

TEST_SUITE("The page of one coil, drawn") {
    TEST_CASE("a scanned code is there at once, and the next one after it") {
        Seat seat;
        CHECK(seat.robot.see("code").active);
        seat.robot.type("A7\n");
        CHECK(seat.robot.see("coil").says == "A7");
        seat.robot.frames(8);
        seat.robot.type("B2\n");
        CHECK(seat.robot.see("coil").says == "B2");
        CHECK(seat.robot.see("code").says.empty());
    }

    TEST_CASE("arrows and clicks go from figure to figure, and show where each comes from") {
        Seat seat;
        seat.robot.type("A7\n");
        seat.robot.frames(8);
        seat.robot.press(key::down);
        CHECK(seat.robot.see("source").says == "Diameter: where it comes from");
        seat.robot.click("fact Density");
        CHECK(seat.robot.see("source").says == "Density: where it comes from");
        CHECK(seat.robot.see("due to coating, squeezed").says == "93 %");
        seat.robot.frames(8);
        CHECK(seat.robot.see("code").active);  // a click leaves the keyboard to the scanner
    }

    TEST_CASE("a condition is noted by keys alone, and is good again by its button") {
        Seat seat;
        seat.robot.type("A7\n");
        seat.robot.frames(8);
        seat.robot.press_with_control('D');
        seat.robot.frames(8);
        seat.robot.type("hin\n");
        seat.robot.frames(8);
        seat.robot.type("at the loop\n");
        seat.robot.frames(8);
        CHECK(seat.robot.sees("condition hinge"));
        seat.robot.click("good again hinge");
        seat.robot.frames(8);
        CHECK_FALSE(seat.robot.sees("condition hinge"));
        CHECK(seat.robot.sees("condition worn loop"));
        seat.robot.click("pick kink");
        seat.robot.frames(8);
        CHECK(seat.desk.form().spot == Spot::condition_note);
        seat.robot.type("\n");
        seat.robot.frames(8);
        CHECK(seat.robot.sees("condition kink"));
    }

    TEST_CASE("notes are written after Ctrl E") {
        Seat seat;
        seat.robot.type("A7\n");
        seat.robot.frames(8);
        seat.robot.press_with_control('E');
        seat.robot.frames(8);
        seat.robot.type("old spool\n");
        seat.robot.frames(8);
        CHECK(app::coil_by_code(seat.workshop, "A7")->notes == "old spool");
        CHECK(seat.robot.see("code").active);
    }

    TEST_CASE("F3 shows the table in place of the plot") {
        Seat seat;
        seat.robot.type("A7\n");
        seat.robot.frames(8);
        CHECK(seat.robot.sees("sink plot"));
        seat.robot.press(key::f3);
        seat.robot.frames();
        CHECK(seat.robot.see("sinks at 10 °C").says == "7.07 ± 0.25");
        CHECK_FALSE(seat.robot.sees("sink plot"));
    }

    TEST_CASE("no two of its actions have the same name, words or key") {
        Seat seat;
        std::set<std::string_view> names, words;
        std::set<std::string> chords;
        const auto actions = coil_actions(seat.desk.view());
        for (const Action& action : actions) {
            names.insert(action.name);
            words.insert(action.says);
            chords.insert(name_of(action.chord));
        }
        CHECK(names.size() == actions.size());
        CHECK(words.size() == actions.size());
        CHECK(chords.size() == actions.size());
    }

    TEST_CASE("it is drawn at every size and in both themes, with and without a coil") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const ThemeName name : {ThemeName::light, ThemeName::dark}) {
                for (const float width : {700.0F, 1280.0F, 1920.0F}) {
                    CAPTURE(width);
                    Seat seat(width * scale, 720 * scale, name, scale);
                    CHECK_FALSE(seat.robot.sees("photo"));
                    seat.robot.type("A7\n");
                    seat.robot.frames(4);
                    CHECK(seat.robot.sees("photo"));
                    CHECK(seat.robot.sees("sink plot"));
                    CHECK(seat.robot.sees("deed"));
                }
            }
        }
    }
}
