#include "bench/shell/finder.h"

#include <doctest/doctest.h>

#include "bench/shell/tabs.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"

using namespace coilbook::bench;

namespace {

const std::vector<Action> some_actions{
    {"confirm", "Confirm what the coil is", control(key::enter), false},
    {"next coil", "Go to the next coil", control('N')},
    {"find", "Find a coil or begin a new one", control('F')},
    {"quit", "Close the window", control('Q')}};

std::vector<std::string_view> names_of(const std::vector<Action>& actions) {
    std::vector<std::string_view> names;
    for (const Action& each : actions) names.push_back(each.name);
    return names;
}

// The list before a robot; what was chosen is kept.
struct Seat {
    Finder finder;
    std::string chosen;
    Robot robot{1280, 800, [this](const Look& look) {
                    const std::string now = finder.draw(look, some_actions);
                    if (!now.empty()) chosen = now;
                }};

    Seat() {
        finder.open();
        robot.frames();
    }
};

}  // namespace

TEST_SUITE("The list of everything that can be done") {
    using Names = std::vector<std::string_view>;

    TEST_CASE("typed letters find the words that they begin, in any order") {
        CHECK(names_of(matching(some_actions, "ne")) == Names{"next coil", "find"});
        CHECK(names_of(matching(some_actions, "CO ne")) == Names{"next coil", "find"});
        CHECK(names_of(matching(some_actions, "wind")) == Names{"quit"});
        CHECK(matching(some_actions, "window close x").empty());
    }

    TEST_CASE("what cannot be done now comes last") {
        CHECK(names_of(matching(some_actions, "")) ==
              Names{"next coil", "find", "quit", "confirm"});
    }

    TEST_CASE("Enter does the first that fits, and the list closes") {
        Seat seat;
        seat.robot.type("clo\n");
        CHECK(seat.chosen == "quit");
        CHECK_FALSE(seat.finder.is_open());
    }

    TEST_CASE("the arrows walk through the list") {
        Seat seat;
        seat.robot.press(key::down);
        seat.robot.type("\n");
        CHECK(seat.chosen == "find");
    }

    TEST_CASE("an action is chosen by mouse as well") {
        Seat seat;
        seat.robot.click("quit");
        CHECK(seat.chosen == "quit");
    }

    TEST_CASE("what cannot be done now is not done, and the list stays") {
        Seat seat;
        seat.robot.type("confirm\n");
        CHECK(seat.chosen.empty());
        CHECK(seat.finder.is_open());
    }

    TEST_CASE("Esc closes it, and nothing happens") {
        Seat seat;
        seat.robot.press(key::escape);
        CHECK(seat.chosen.empty());
        CHECK_FALSE(seat.finder.is_open());
    }

    TEST_CASE("opened again it is empty") {
        Seat seat;
        seat.robot.type("win");
        seat.robot.press(key::escape);
        seat.finder.open();
        seat.robot.frames();
        CHECK(seat.robot.see("find action").says.empty());
    }
}

TEST_SUITE("The names of the pages") {
    TEST_CASE("a click goes to a page, and not to the one that is shown") {
        const std::vector<std::string_view> names{"Bench", "Bin"};
        std::optional<std::size_t> chosen;
        Robot robot{1280, 800, [&](const Look& look) {
                        if (const auto drawn = draw_tabs(look, names, 0, 600, 36); drawn.chosen) {
                            chosen = drawn.chosen;
                        }
                    }};
        robot.frames();
        robot.click("page Bench");
        CHECK_FALSE(chosen);
        robot.click("page Bin");
        CHECK(chosen == 1U);
    }

    TEST_CASE("where there is no room only the page that is shown has a tab") {
        const std::vector<std::string_view> names{"Bench", "Bin"};
        Robot robot{1280, 800, [&](const Look& look) {
                        const auto drawn = draw_tabs(look, names, 1, 100, 36);
                        CHECK(drawn.width <= 100);
                    }};
        robot.frames();
        CHECK(robot.sees("page Bin"));
        CHECK_FALSE(robot.sees("page Bench"));
    }
}
