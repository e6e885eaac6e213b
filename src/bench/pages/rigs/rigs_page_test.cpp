// The page Rigs: its desk by itself, and the page drawn without a window and driven by keys.
#include <doctest/doctest.h>

#include "app/undo.h"
#include "bench/pages/rigs/rigs_actions.h"
#include "bench/pages/rigs/rigs_screen.h"
#include "bench/widgets/keys.h"
#include "support/a_shed.h"
#include "support/robot.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::rigs_page;

namespace {

struct Seat {
    app::Shed shed;
    SharedBin shared{shed.workshop};
    Desk desk{shared};

    void perform(const char* action) {
        bench::perform(action, desk);
        desk.act();
    }
    void scan(const char* code) {
        desk.outbox().post(EnterCode{code});
        desk.act();
    }
    [[nodiscard]] const View& view() { return desk.view(); }
};

struct Window : Seat {
    Robot robot;

    explicit Window(float width = 1280, float height = 720, ThemeName theme = ThemeName::light,
                    float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  rigs_page::draw(look, desk);
                  desk.act();
              },
              theme, scale) {
        robot.frames(6);
    }
};

}  // namespace

TEST_SUITE("The page Rigs") {
    TEST_CASE("a rig says what is on it, what its tips fit, and which comes next") {
        Seat seat;
        const View& view = seat.view();
        CHECK(view.summary == "1 rig");
        CHECK(view.rows.at(0).below == "tip A1, 1 in the wallet, in the bin");
        CHECK(view.sheet.title == "R1, blue two-hander");
        CHECK(view.sheet.strung.at(0).role == "tip");
        CHECK(view.sheet.wallet.at(0).code == "A2");
        CHECK(view.sheet.wallet.at(0).fit == "fits size 8");
        CHECK(view.sheet.next_label == "Next tip: A2, size 8 type 6 tip");
        CHECK(view.sheet.fits == std::vector<std::string>{"A3  size 8 type 8 tip"});
    }

    TEST_CASE("one key changes the tip, and one takes that back") {
        Seat seat;
        seat.perform("next tip");
        CHECK(seat.view().sheet.strung.at(0).code == "A2");
        CHECK(seat.view().message == "A2 is on, A1 is in the wallet");
        seat.perform("undo");
        CHECK(seat.view().sheet.strung.at(0).code == "A1");
    }

    TEST_CASE("coils are laid into the wallet by scanning, and taken out again") {
        Seat seat;
        seat.perform("into the wallet");
        says(seat.view().code_label, "wallet of R1");
        seat.scan("A3");
        seat.scan("B1");
        CHECK(seat.view().sheet.wallet.size() == 3);
        says(seat.shed.where("B1"), "in the wallet of rig R1");
        seat.scan("A3x");
        CHECK_FALSE(seat.view().code_error.empty());
        seat.perform("back");
        CHECK(seat.view().code_label == "Scan or type a code: a rig, or a tip");
        for (const auto& part : seat.view().sheet.wallet) {
            if (part.code == "B1") seat.desk.form().part = part.coil;
        }
        seat.perform("take out");
        says(seat.shed.where("B1"), "in the bin");
    }

    TEST_CASE("a scanned tip leads to its rig, and one of the bin to the bench") {
        Seat seat;
        seat.scan("a2");
        CHECK(seat.view().code_error.empty() == false);  // codes of a person's own are exact
        seat.scan("A2");
        CHECK(seat.view().message == "A2 is in the wallet of rig R1");
        CHECK(seat.view().has_part);
        CHECK_FALSE(seat.desk.take_trip());
        seat.scan("A3");
        CHECK(seat.desk.take_trip() == app::coil_by_code(seat.shed.workshop, "A3")->id);
    }

    TEST_CASE("a rig is changed in its fields, and what is wrong stands beside the field") {
        Seat seat;
        seat.perform("change rig");
        auto& form = *seat.desk.form().entry;
        CHECK(typed_in(form, "rod") == "13 ft");
        form.fields[2].typed = "8 and a half";
        seat.perform("save");
        REQUIRE(seat.desk.form().entry.has_value());
        CHECK_FALSE(seat.desk.form().entry->fields[2].error.empty());
        seat.desk.form().entry->fields[2].typed = "9";
        seat.desk.form().entry->fields[1].typed = "A1";
        seat.perform("save");
        CHECK_FALSE(seat.desk.form().entry->fields[1].error.empty());
        seat.desk.form().entry->fields[1].typed = "R1";
        seat.perform("save");
        CHECK_FALSE(seat.desk.form().entry.has_value());
        CHECK(seat.view().sheet.strung.at(0).fit == "for size 8, not 9");
    }

    TEST_CASE("a rig with tips in it is not retired, and an empty one only when asked twice") {
        Seat seat;
        seat.perform("retire rig");
        says(seat.view().message, "Once more");
        seat.perform("retire rig");
        says(seat.view().code_error, "still has A1 and A2");
        for (const char* code : {"A1", "A2"}) {
            REQUIRE(app::hand_over(seat.shed.workshop, {Whereabouts::bin, "", "", "", {code}}));
        }
        seat.shared.refresh();
        seat.desk.look_round();
        CHECK(seat.view().sheet.wallet.empty());
        seat.perform("retire rig");
        seat.perform("retire rig");
        CHECK_FALSE(seat.view().has_rig);
        says(seat.view().nothing, "Ctrl N");
        seat.perform("undo");
        CHECK(seat.view().has_rig);
    }

    TEST_CASE("a rig is made by keys alone") {
        Window window;
        window.robot.press_with_control('N');
        window.robot.frames();
        window.robot.type("red switch\nR2\n7\n11 ft\n\n\n\n\n");
        window.robot.frames(6);
        CHECK(window.view().sheet.title == "R2, red switch");
        CHECK(window.robot.see("message").says == "Added: rig R2");
        CHECK(window.robot.see("code").active);
    }

    TEST_CASE("a scanner's burst is strung code by code") {
        Window window;
        window.robot.press(key::f6);
        window.robot.burst("A3\nB1\nB2\n");
        window.robot.frames(6);
        CHECK(window.view().sheet.wallet.size() == 4);
        window.robot.press(key::f5);
        says(window.robot.see("message").says, "is on, A1 is in the wallet");
    }

    TEST_CASE("the decision is in sight on small screens and large ones, light and dark") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const auto theme : {ThemeName::light, ThemeName::dark}) {
                Window window(1280 * scale, 660 * scale, theme, scale);
                CHECK(window.robot.see("next tip").visible);
                CHECK(window.robot.see("next tip").bottom <= 660 * scale);
                window.robot.press(key::f4);
                CHECK(window.robot.see("save").bottom <= 660 * scale);
            }
        }
    }
}
