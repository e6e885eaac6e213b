// The page, drawn without a window and driven by keys and mouse.
#include "bench/pages/instruments/instruments_screen.h"

#include <doctest/doctest.h>

#include "support/an_instrument.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::instruments_page;

namespace {

// The page on a real catalogue with a robot before it; commands are carried out after the frame.
struct Seat {
    Bench bench;
    Robot robot;

    explicit Seat(float width = 1280, float height = 740, ThemeName theme = ThemeName::light,
                  float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  Desk& desk = bench.desk;
                  instruments_page::draw(
                      look, {desk.view(), desk.form(), desk.outbox(), desk.instrument()});
                  desk.act();
              },
              theme, scale) {
        robot.frames();
    }
    // As a hand clicks: not before the field at hand has the keyboard again.
    void click(std::string_view name) {
        robot.click(name);
        robot.frames(8);
    }
};

}  // namespace

TEST_SUITE("The page of the instruments") {
    TEST_CASE("devices type a whole check without a hand on the mouse") {
        Seat seat;
        const auto acts = seat.bench.acts();
        seat.robot.press(key::f5);
        seat.robot.type("100\n0.02\n100.3\n100.2\n100.3\n\n300\n0.02\n300.2\n300.3\n300.2\n");
        CHECK(seat.robot.see("reading").active);
        CHECK(seat.robot.see("reading").says.empty());
        CHECK(seat.robot.see("chip 2").says == "300.2 gr");
        says(seat.robot.see("headline").says, "It reads 0.25");
        says(seat.robot.see("step").says, "Read 300 gr anew: 3 readings so far");
        seat.robot.press_with_control(key::enter);
        CHECK(seat.bench.acts() == acts + 1);
        CHECK(seat.robot.see("instrument state").says == "checked");
        CHECK(seat.robot.see("message").says == "Saved: check of scale S2");
        CHECK(seat.robot.see("code").active);
    }

    TEST_CASE("a burst faster than frames loses nothing") {
        Seat seat;
        seat.robot.press(key::f5);
        seat.robot.burst("100\n0.02\n100.3\n100.2\n100.3\n\n300\n0.02\n300.2\n");
        seat.robot.frames();
        const auto read = check_at_hand(seat.bench.desk.form())->read();
        REQUIRE(read.size() == 2);
        CHECK(read[0].readings.size() == 3);
        CHECK(read[1].readings.size() == 1);
    }

    TEST_CASE("after a refusal the next number of a device replaces what was refused") {
        Seat seat;
        seat.robot.press(key::f5);
        seat.robot.type("100\n0.02\n100,3\n");
        seat.robot.burst("100.3\n");
        seat.robot.frames();
        const auto read = check_at_hand(seat.bench.desk.form())->read();
        REQUIRE(read.size() == 1);
        CHECK(read[0].as_written == std::vector<std::string>{"100.3 gr"});
    }

    TEST_CASE("the buttons do what the keys do") {
        Seat seat;
        seat.click("check");
        CHECK(seat.bench.desk.form().task == Task::check);
        seat.robot.type("100\n0.02\n100.3\n109\n");
        seat.click("chip 1");
        CHECK(check_at_hand(seat.bench.desk.form())->read().front().readings.size() == 1);
        CHECK(seat.robot.see("reading").active);
        seat.click("other unit");
        CHECK(check_at_hand(seat.bench.desk.form())->unit == "g");
        seat.click("standard 0");
        seat.click("throw away");
        CHECK_FALSE(seat.bench.desk.has_unsaved());
        seat.robot.press(key::escape);
        CHECK(seat.bench.desk.form().task == Task::look);
        seat.click("instrument tape");
        CHECK(seat.robot.see("instrument in hand").says == "The usual tape");
        seat.click("new instrument");
        CHECK(seat.robot.see("new code").active);
        seat.robot.type("T9\n0.5\n1\n\n");
        CHECK(seat.bench.workshop.instruments().tapes.contains("T9"));
    }

    TEST_CASE("a study is set up and read by keys alone") {
        Seat seat;
        seat.robot.press(key::f9);
        CHECK(seat.robot.see("people").active);
        seat.robot.type("ann bob\nk1 k2\n2\n");
        CHECK(seat.robot.see("study reading").active);
        seat.robot.type("0.80\n0.90\n0.81\n0.91\n0.80\n0.90\n0.81\n0.91\n");
        CHECK(seat.bench.desk.view().study.is_done);
        CHECK(seat.robot.sees("judgement"));
    }

    TEST_CASE("Ctrl Z in an empty field is the catalogue's") {
        Seat seat;
        seat.robot.press_with_control('Z');
        CHECK(seat.robot.see("message").says == "Undone: add scale S2");
        CHECK_FALSE(seat.robot.sees("instrument scale S2"));
    }

    TEST_CASE("it is drawn in every task, small and large, light and dark") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const auto theme : {ThemeName::light, ThemeName::dark}) {
                Seat seat(1280 * scale, 660 * scale, theme, scale);
                for (const int each : {key::f5, key::escape, key::f6, key::escape, key::f9}) {
                    seat.robot.press(each);
                }
                CHECK(seat.bench.desk.form().task == Task::study);
            }
        }
    }
}
