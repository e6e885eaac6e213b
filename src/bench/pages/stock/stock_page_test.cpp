// The page Stock: its desk by itself, and the page drawn without a window and driven by keys.
#include <doctest/doctest.h>

#include <algorithm>

#include "bench/pages/stock/stock_actions.h"
#include "bench/pages/stock/stock_screen.h"
#include "bench/widgets/keys.h"
#include "support/a_shed.h"
#include "support/robot.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::stock_page;

namespace {

struct Seat {
    app::Shed shed;
    SharedBin shared{shed.workshop};
    Desk desk{shared};

    Seat() {
        hand(Whereabouts::boat, "B1", "Heron");
        hand(Whereabouts::lost, "B1");
        hand(Whereabouts::damaged, "A3");
        shared.refresh();
    }
    void hand(Whereabouts to, const char* code, const char* boat = "") {
        REQUIRE(app::hand_over(shed.workshop, {to, boat, "", "", {code}}).has_value());
    }
    void perform(const char* action) {
        bench::perform(action, desk);
        desk.act();
    }
    void scan(const char* code) {
        desk.outbox().post(EnterCode{code});
        desk.act();
    }
    [[nodiscard]] const View& view() { return desk.view(); }
    [[nodiscard]] const StockRowView& row(std::string_view name) {
        return *std::ranges::find(view().rows, name, &StockRowView::class_name);
    }
};

struct Window : Seat {
    Robot robot;

    explicit Window(float width = 1280, float height = 720, ThemeName theme = ThemeName::light,
                    float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  stock_page::draw(look, desk);
                  desk.act();
              },
              theme, scale) {
        robot.frames(6);
    }
};

}  // namespace

TEST_SUITE("The page Stock") {
    TEST_CASE("a row says how many of a class are where") {
        Seat seat;
        // In the bin, with boats, lent, damaged, lost, in all, promised, missing.
        CHECK(seat.row("T-11").counts ==
              std::array<std::string, 8>{"1", "", "", "", "1", "2", "", ""});
        CHECK(seat.row("rig").counts[0] == "1");
        CHECK(seat.row("size 8 type 8 tip").counts[3] == "1");
    }

    TEST_CASE("every count says what it is") {
        Seat seat;
        for (std::size_t at = 0; at < heads.size(); ++at) {
            CHECK_MESSAGE(!seat.view().head_help[at].empty(), heads[at]);
        }
        CHECK_FALSE(seat.view().loss_help.empty());
    }

    TEST_CASE("what a coming day misses is told") {
        Seat seat;
        auto& workshop = seat.shed.workshop;
        REQUIRE(app::add_outing(workshop, seat.shed.tomorrow, "Heron").has_value());
        REQUIRE(
            app::promise_class(workshop, seat.shed.tomorrow, "Heron", "", "T-11", 3).has_value());
        seat.shared.refresh();
        CHECK(seat.row("T-11").counts[6] == "3");
        CHECK(seat.row("T-11").counts[7] == "2");
        says(seat.view().aside, "2 missing for a coming day");
    }

    TEST_CASE("a scanned code is answered with where it is, and where it was") {
        Seat seat;
        seat.scan("B1");
        says(seat.view().answer, "B1 (T-11): lost from boat Heron");
        REQUIRE(seat.view().record.size() == 2);
        CHECK(seat.view().record[1].place == "with boat Heron");
        CHECK(seat.view().class_title == "T-11");
        CHECK(seat.view().things.size() == 2);
        seat.perform("take to the bench");
        CHECK(seat.desk.take_trip() == app::coil_by_code(seat.shed.workshop, "B1")->id);
        seat.scan("B9");
        CHECK(seat.view().answer.empty());
        says(seat.view().code_error, "there is no coil or rig 'B9'");
        seat.scan("R1");
        says(seat.view().answer, "R1 (rig, size 8: blue two-hander): in the bin");
        CHECK_FALSE(seat.view().may_go_to_bench);
    }

    TEST_CASE("a season's losses are shown by class and by boat, and the days can be told") {
        Seat seat;
        seat.perform("losses");
        REQUIRE(seat.view().losses.rows.size() == 2);
        CHECK(seat.view().replace == std::vector<std::string>{"T-11: 1 gone, 1 left",
                                                              "size 8 type 8 tip: 1 gone, 0 left"});
        seat.perform("by boat");
        CHECK(seat.view().losses.rows[0].name == "Heron");
        CHECK(seat.view().losses.rows[0].counts == std::vector<int>{1, 0, 0});
        seat.perform("season");
        seat.desk.form().entry->fields[0].typed = "last spring";
        seat.perform("save");
        CHECK_FALSE(seat.desk.form().entry->fields[0].error.empty());
        seat.desk.form().entry->fields[0].typed = "2031-01-01";
        seat.desk.form().entry->fields[1].typed = "2030-01-01";
        seat.perform("save");
        CHECK_FALSE(seat.desk.form().entry->fields[1].error.empty());
        seat.desk.form().entry->fields[1].typed = "2031-12-31";
        seat.perform("save");
        CHECK(seat.view().losses.rows.empty());
        says(seat.view().nothing, "Nothing was lost");
    }

    TEST_CASE("the keyboard is in the question, and Ctrl Z is the catalogue's") {
        Window window;
        window.robot.type("B1\n");
        says(window.robot.see("answer").says, "lost from boat Heron");
        window.robot.press_with_control('Z');
        says(window.robot.see("message").says, "Undone: note A3 as damaged");
        CHECK(window.row("size 8 type 8 tip").counts[0] == "1");
        window.robot.press(key::f6);
        CHECK(window.robot.see("bar T-11").says == "1");
    }

    TEST_CASE("it is drawn in both tasks, small and large, light and dark") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const auto theme : {ThemeName::light, ThemeName::dark}) {
                Window window(1280 * scale, 660 * scale, theme, scale);
                window.robot.press(key::f6);
                CHECK(window.robot.see("save losses").bottom <= 660 * scale);
                window.robot.press(key::f4);
                CHECK(window.robot.see("save").visible);
            }
        }
    }
}
