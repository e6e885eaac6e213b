// The page Day: its desk by itself, and the page drawn without a window and driven by keys.
#include <doctest/doctest.h>

#include <algorithm>

#include "bench/pages/day/day_actions.h"
#include "bench/pages/day/day_screen.h"
#include "bench/widgets/keys.h"
#include "support/a_shed.h"
#include "support/robot.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::day_page;

namespace {

struct Seat {
    app::Shed shed;
    SharedBin shared{shed.workshop};
    Desk desk{shared};

    void perform(const char* action) {
        bench::perform(action, desk);
        desk.act();
    }
    void scan(const std::string& code) {
        desk.outbox().post(EnterCode{code});
        desk.act();
    }
    // A boat goes out tomorrow.
    void go_out(const char* boat, const char* client = "") {
        perform("new outing");
        desk.form().entry->fields[0].typed = boat;
        desk.form().entry->fields[1].typed = client;
        perform("save");
    }
    [[nodiscard]] const View& view() { return desk.view(); }
    [[nodiscard]] const RowView* row(std::string_view key) {
        const auto& rows = view().rows;
        const auto found = std::ranges::find(rows, key, &RowView::key);
        return found == rows.end() ? nullptr : &*found;
    }
    [[nodiscard]] std::string problems() {
        std::string all;
        for (const auto& each : view().problems) all += each.words + "\n";
        return all;
    }
};

struct Window : Seat {
    Robot robot;

    explicit Window(float width = 1280, float height = 720, ThemeName theme = ThemeName::light,
                    float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  day_page::draw(look, desk);
                  desk.act();
              },
              theme, scale) {
        robot.frames(6);
    }
};

}  // namespace

TEST_SUITE("The page Day") {
    TEST_CASE("an empty day says what to do, and it is tomorrow that is planned") {
        Seat seat;
        says(seat.view().day, "Tomorrow, ");
        says(seat.view().no_boats, "Ctrl N");
        CHECK(seat.view().boats.empty());
        CHECK(seat.view().title == "No boat goes out");
        CHECK_FALSE(seat.view().cautions.empty());
    }

    TEST_CASE("a boat is planned by the first letters of its name, and its client by theirs") {
        Seat seat;
        seat.go_out("her", "ida");
        REQUIRE(seat.view().boats.size() == 1);
        CHECK(seat.view().boats[0].name == "Heron");
        CHECK(seat.view().boats[0].clients == "Ida Brandvik");
        seat.go_out("nobody");
        REQUIRE(seat.desk.form().entry.has_value());
        CHECK_FALSE(seat.desk.form().entry->fields[0].error.empty());
        seat.perform("back");
        seat.perform("undo");
        CHECK(seat.view().boats.empty());
    }

    TEST_CASE("a rig without a fast tip is told, and one key puts on the plan what would help") {
        Seat seat;
        REQUIRE(app::hand_over(seat.shed.workshop, {Whereabouts::bin, "", "", "", {"A2"}}));
        seat.shared.refresh();
        seat.go_out("Heron");
        seat.perform("plan");
        seat.scan("R1");
        says(seat.problems(), "boat Heron has no fast-sinking tip for its rod of size 8");
        CHECK(seat.view().boats[0].mark == Mark::warning);
        CHECK(seat.view().fill_label == "Take A2 along");
        seat.perform("fill gap");
        CHECK(seat.row("A2") != nullptr);
        CHECK(seat.problems().empty());
    }

    TEST_CASE("what is promised twice is said at once") {
        Seat seat;
        seat.go_out("Heron");
        seat.perform("plan");
        seat.scan("A3");
        seat.go_out("Puddle");
        seat.scan("A3");
        says(seat.view().message, "is promised to Heron and Puddle");
        CHECK(seat.row("A3")->aside == "see warnings");
        seat.perform("drop");
        CHECK(seat.problems().empty());
    }

    TEST_CASE("so many of a class are needed, and any of it fills the need") {
        Seat seat;
        seat.go_out("Heron");
        seat.perform("plan");
        seat.scan("3 t-11");
        says(seat.problems(), "3 of T-11 are needed and 2 at hand");
        seat.scan("T-1000");
        says(seat.view().code_error, "nor is it a class");
        seat.perform("pack");
        seat.scan("B2");
        CHECK(seat.row("T-11")->words == "3 x T-11, 1 aboard");
        CHECK(seat.row("B2")->is_within);
        CHECK(seat.view().boats[0].packed == "1 of 2");
    }

    TEST_CASE("scanning ticks what is planned, once") {
        Seat seat;
        seat.go_out("Heron");
        seat.perform("plan");
        seat.scan("R1");
        seat.scan("A3");
        seat.perform("pack");
        CHECK(seat.view().boats[0].packed == "0 of 4");
        seat.scan("A2");
        says(seat.view().code_error, "in the wallet of rig R1 and goes where that goes: scan R1");
        seat.scan("R1");
        CHECK(*seat.row("A2")->tick);
        seat.scan("A3");
        CHECK(seat.view().boats[0].packed == "4 of 4");
        CHECK(seat.view().boats[0].mark == Mark::check);
        seat.scan("A3");
        says(seat.view().message, "aboard Heron already");
        seat.desk.form().row = "A3";
        seat.perform("tick");
        says(seat.shed.where("A3"), "in the bin");
        seat.perform("undo");
        says(seat.shed.where("A3"), "with boat Heron");
    }

    TEST_CASE("what is on no plan is packed only when it is entered twice") {
        Seat seat;
        seat.go_out("Heron");
        seat.scan("B1");
        says(seat.view().code_note, "not on the plan of Heron");
        says(seat.shed.where("B1"), "in the bin");
        seat.scan("B2");
        seat.scan("B1");  // another one in between asks anew
        says(seat.shed.where("B1"), "in the bin");
        seat.scan("B1");
        says(seat.shed.where("B1"), "with boat Heron");
        says(seat.row("B1")->words, "not on the plan");
    }

    TEST_CASE("in the evening what did not come back is told, and noted as lost") {
        Seat seat;
        seat.go_out("Heron");
        for (const char* code : {"R1", "A3", "B1"}) {
            seat.scan(code);
            seat.scan(code);
        }
        seat.perform("come back");
        CHECK(seat.view().title == "5 things did not come back yet");
        seat.scan("A2");
        says(seat.view().code_note, "comes back with it: scan R1");
        seat.scan("R1");
        says(seat.view().message, "R1 is back, and with it");
        seat.scan("B1");
        CHECK(seat.view().title == "1 thing did not come back yet");
        seat.perform("lost");
        CHECK(seat.view().title == "Everything is back");
        says(seat.shed.where("A3"), "lost from boat Heron");
        seat.perform("undo");
        CHECK(seat.view().title == "1 thing did not come back yet");
    }

    TEST_CASE("a tip that came back without its rig is taken out of it, when asked twice") {
        Seat seat;
        seat.go_out("Heron");
        seat.scan("R1");
        seat.scan("R1");
        seat.perform("come back");
        seat.desk.form().row = "A2";
        seat.perform("tick");
        says(seat.shed.where("A2"), "in the wallet of rig R1");
        seat.perform("tick");
        says(seat.shed.where("A2"), "in the bin");
        seat.scan("A1");
        seat.scan("A1");
        says(seat.shed.where("A1"), "in the bin");
        CHECK(seat.view().title == "1 thing did not come back yet");
    }

    TEST_CASE("boats and clients are made, changed and ended") {
        Seat seat;
        seat.perform("new boat");
        seat.desk.form().entry->fields[0].typed = "Kettle";
        seat.desk.form().entry->fields[1].typed = "many";
        seat.perform("save");
        CHECK_FALSE(seat.desk.form().entry->fields[1].error.empty());
        seat.desk.form().entry->fields[1].typed = "4";
        seat.perform("save");
        seat.perform("people");
        seat.scan("kett");
        CHECK(seat.desk.form().row == "Kettle");
        seat.perform("end person");
        seat.perform("end person");
        CHECK(seat.row("Kettle") == nullptr);
        seat.scan("ida");
        seat.perform("change person");
        CHECK(typed_in(*seat.desk.form().entry, "name") == "Ida Brandvik");
        seat.desk.form().entry->fields[0].typed = "Ida Bergvik";
        seat.perform("save");
        CHECK(seat.row(seat.shed.client)->head == "Ida Bergvik");
        CHECK(seat.view().end_label == "Forget this client");
        seat.perform("end person");
        CHECK(seat.row(seat.shed.client) != nullptr);
        seat.perform("end person");
        CHECK(seat.row(seat.shed.client) == nullptr);
    }

    TEST_CASE("a day is planned, packed and ended by keys and a scanner alone") {
        Window window;
        window.robot.press_with_control('N');
        window.robot.type("her\nida\n");
        window.robot.frames(6);
        window.robot.press(key::f5);
        window.robot.burst("R1\nA3\n1 T-11\n");
        window.robot.frames(6);
        window.robot.press(key::f6);
        window.robot.burst("R1\nA3\nB1\n");
        window.robot.frames(6);
        CHECK(window.view().boats.at(0).packed == "6 of 6");
        CHECK(window.robot.see("code").active);
        window.robot.press(key::f7);
        window.robot.burst("R1\nB1\n");
        window.robot.frames(6);
        CHECK(window.robot.see("title").says == "1 thing did not come back yet");
        CHECK(window.robot.sees("row A3"));
    }

    TEST_CASE("a click on the box ticks, and one on the row only goes there") {
        Window window;
        window.go_out("Heron");
        window.perform("plan");
        window.scan("A3");
        window.perform("pack");
        window.robot.frames(6);
        window.robot.click("row A3");
        says(window.shed.where("A3"), "in the bin");
        window.robot.click("tick");
        says(window.shed.where("A3"), "with boat Heron");
    }

    TEST_CASE("it is drawn in every task, small and large, light and dark") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const auto theme : {ThemeName::light, ThemeName::dark}) {
                Window window(1280 * scale, 660 * scale, theme, scale);
                window.go_out("Heron", "Ida");
                for (const int each : {key::f5, key::f6, key::f7, key::f9}) {
                    window.robot.press(each);
                    CHECK(window.robot.see("code").visible);
                }
                CHECK(window.robot.see("end person").bottom <= 660 * scale);
            }
        }
    }
}
