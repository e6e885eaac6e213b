// The page of the bin, drawn without a window and driven by keys and mouse.
#include "bench/pages/bin/bin_screen.h"

#include <doctest/doctest.h>

#include <sstream>

#include "app/coil_changes.h"
#include "app/outfit.h"
#include "app/take_in.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bin_page;

namespace {

struct Seat {
    app::Workshop workshop = [] {
        auto made = app::workshop_in_memory();
        static_cast<void>(app::take_in_demo(made));
        static_cast<void>(app::add_boat(made, "Heron", {}, {}));
        return made;
    }();
    SharedBin shared{workshop};
    Desk desk{shared};
    Robot robot;

    explicit Seat(float width = 1280, float height = 800, float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  bin_page::draw(look, desk);
                  desk.act();
                  desk.look_round(std::chrono::milliseconds{1000});
              },
              ThemeName::light, scale) {
        robot.frames(6);
    }
};

}  // namespace

TEST_SUITE("The page of the bin as drawn") {
    TEST_CASE("a scanned code and its Enter take that coil to the bench") {
        for (const bool at_once : {true, false}) {
            CAPTURE(at_once);
            Seat seat;
            at_once ? seat.robot.burst("K8P4\n") : seat.robot.type("K8P4\n");
            seat.robot.frames();
            CHECK(seat.desk.take_trip() == app::coil_by_code(seat.workshop, "K8P4")->id);
        }
    }

    TEST_CASE("a click on a row goes there, and on its box ticks it") {
        Seat seat;
        seat.robot.click("row F6H4");
        const auto id = app::coil_by_code(seat.workshop, "F6H4")->id;
        CHECK(seat.desk.form().at == id);
        CHECK(seat.desk.form().ticked.empty());
        seat.robot.press_with_control(' ');
        CHECK(seat.desk.form().ticked.contains(id));
    }

    TEST_CASE("a head sorts, and the other way round when it is clicked again") {
        Seat seat;
        seat.robot.click("head gr/ft");
        CHECK(seat.desk.form().order == Order{SortBy::weight, false});
        seat.robot.click("head gr/ft");
        CHECK(seat.desk.form().order.by == SortBy::weight);
        CHECK(seat.desk.form().order.is_descending);
    }

    TEST_CASE("the arrows walk, and the row stays in sight") {
        Seat seat;
        for (int row = 0; row < 30; ++row) seat.robot.press(key::down);
        seat.robot.frames();
        CHECK(seat.desk.view().at == 30U);
        CHECK(seat.robot.see("row " + seat.desk.view().row(30).code).visible);
    }

    TEST_CASE("a state is chosen by mouse, and Esc shows all again") {
        Seat seat;
        seat.robot.click("state ready to confirm");
        CHECK(seat.desk.form().state == app::CoilState::ready);
        CHECK(seat.desk.view().count < 46);
        seat.robot.press(key::escape);
        CHECK(seat.desk.view().count == 46);
    }

    TEST_CASE("the decision is in sight on small screens and large ones") {
        for (const auto& [width, height, scale] :
             {std::tuple{1280.0F, 720.0F, 1.0F}, {2560.0F, 1600.0F, 2.0F}}) {
            CAPTURE(width);
            Seat seat(width, height, scale);
            const Seen& button = seat.robot.see("confirm ready");
            CHECK(button.visible);
            CHECK(button.bottom <= height);
            CHECK(button.right <= width);
        }
    }

    TEST_CASE(
        "F6 shows cards in place of rows; a click goes there, arrows walk, and F6 goes back") {
        Seat seat;
        CHECK(seat.robot.sees("row F6H4"));
        seat.robot.press(key::f6);
        seat.robot.frames();
        CHECK_FALSE(seat.robot.sees("row F6H4"));
        seat.robot.click("card F6H4");
        CHECK(seat.desk.form().at == app::coil_by_code(seat.workshop, "F6H4")->id);
        const auto before = *seat.desk.view().at;
        for (int step = 0; step < 20; ++step) seat.robot.press(key::down);
        seat.robot.frames();
        CHECK(*seat.desk.view().at == before + 20);
        const auto& row = seat.desk.view().row(*seat.desk.view().at);
        CHECK(seat.robot.see("card " + row.code).visible);
        seat.robot.press(key::f6);
        seat.robot.frames();
        CHECK(seat.robot.sees("row " + row.code));
    }

    TEST_CASE("Ctrl H asks where coils go, and a click on a boat or its letters hand them out") {
        Seat seat;
        seat.robot.press_with_control('H');
        seat.robot.frames();
        CHECK(seat.robot.see("hand to").active);
        seat.robot.type("Heron\n");
        seat.robot.frames();
        CHECK(mentions(seat.desk.view().message, "With boat Heron: "));
        CHECK(seat.robot.see("look for").active);
        seat.robot.press_with_control('H');
        seat.robot.frames();
        seat.robot.type("nobody\n");
        seat.robot.frames();
        CHECK(mentions(seat.robot.see("hand error").says, "there is no boat or rig 'nobody'"));
        seat.robot.press(key::escape);
        seat.robot.frames();
        CHECK_FALSE(seat.desk.form().is_handing);
    }
}
