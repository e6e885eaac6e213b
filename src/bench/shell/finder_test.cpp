#include "bench/shell/finder.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include <chrono>

#include "bench/shell/tabs.h"
#include "bench/widgets/field.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/witness.h"
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
        const std::vector<Tab> tabs{{"Bench", "Alt 1", true}, {"Bin", "Alt 2"}};
        std::optional<std::size_t> chosen;
        Robot robot{1280, 800, [&](const Look& look) {
                        if (const auto drawn = draw_tabs(look, tabs, 600, 36); drawn.chosen) {
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
        const std::vector<Tab> tabs{{"Bench", "Alt 1"}, {"Bin", "Alt 2", true}};
        Robot robot{1280, 800, [&](const Look& look) {
                        const auto drawn = draw_tabs(look, tabs, 100, 36);
                        CHECK(drawn.width <= 100);
                    }};
        robot.frames();
        CHECK(robot.sees("page Bin"));
        CHECK_FALSE(robot.sees("page Bench"));
    }
}

namespace {

// Three numbers in a child that scrolls, the last one out of sight, beside a field with the
// keyboard.
struct Numbers {
    bool field_first = true;
    std::chrono::steady_clock::time_point now{};
    NumberHelp help{[this] { return now; }};
    std::string typed;
    bool takes_focus = true;
    Robot robot{800, 600, [this](const Look& look) { draw(look); }};

    void draw(const Look& look) {
        if (pressed(plain(key::f12))) help.walk();
        help.begin();
        Look with_help = look;
        with_help.help = &help;
        const FieldText text{.id = "field",
                             .label = "Weight",
                             .unit = {},
                             .note = {},
                             .error = {},
                             .hint = {},
                             .help = "What a piece of it weighs."};
        const auto field = [&] {
            (void)number_field(with_help, text, {.field_width = 200}, typed, takes_focus);
        };
        if (field_first) field();
        {
            const ChildScope child("numbers", {300, 100}, false);
            for (const char* each : {"first", "second", "third"}) {
                line(look, look.fonts.text, each);
                note_item(look, each, each);
                help_on_item(with_help, std::string("This is the ") + each + " number.");
                ImGui::Dummy({1, 60});
            }
        }
        if (!field_first) field();
        help.draw(look);
    }
    [[nodiscard]] std::string shown() const {
        return robot.sees("number help") ? robot.see("number help").says : std::string();
    }
};

}  // namespace

TEST_SUITE("Help on a number") {
    TEST_CASE("F12 shows the first one, arrows go round, and what is out of sight is scrolled to") {
        Numbers numbers;
        numbers.robot.frames();
        CHECK(numbers.shown().empty());
        numbers.robot.press(key::f12);
        CHECK(numbers.shown() == "What a piece of it weighs.");
        numbers.robot.press(key::down);
        CHECK(numbers.shown() == "This is the first number.");
        numbers.robot.press(key::right);
        numbers.robot.press(key::down);
        numbers.robot.frames();
        CHECK(numbers.shown() == "This is the third number.");
        CHECK(numbers.robot.see("third").visible);
        numbers.robot.press(key::down);
        CHECK(numbers.shown() == "What a piece of it weighs.");
        numbers.robot.press(key::up);
        CHECK(numbers.shown() == "This is the third number.");
        numbers.robot.press(key::f12);
        CHECK(numbers.shown().empty());
    }

    TEST_CASE(
        "what is typed meanwhile goes into the field, whole, and ends it; Esc loses nothing") {
        Numbers numbers;
        numbers.robot.frames();
        numbers.robot.type("22");
        numbers.takes_focus = false;
        numbers.robot.press(key::f12);
        REQUIRE(numbers.help.is_walking());
        numbers.robot.press(key::escape);
        CHECK_FALSE(numbers.help.is_walking());
        CHECK(numbers.typed == "22");
        numbers.robot.press(key::f12);
        numbers.robot.press(key::left);
        numbers.robot.type(".4");
        CHECK_FALSE(numbers.help.is_walking());
        CHECK(numbers.typed == "22.4");
    }

    TEST_CASE("it begins at the field with the keyboard") {
        Numbers numbers;
        numbers.field_first = false;
        numbers.robot.frames();
        numbers.robot.press(key::f12);
        CHECK(numbers.shown() == "What a piece of it weighs.");
        numbers.robot.press(key::up);
        numbers.robot.frames();
        CHECK(numbers.shown() == "This is the third number.");
    }

    TEST_CASE("the mouse has to rest on a number for half a second") {
        Numbers numbers;
        numbers.robot.frames();
        const Seen& first = numbers.robot.see("first");
        numbers.robot.point_at(first.centre_x(), first.centre_y(), 0);
        numbers.robot.frames();
        CHECK(numbers.help.is_waiting());
        CHECK_FALSE(numbers.help.is_due());
        CHECK(numbers.shown().empty());
        numbers.now += std::chrono::milliseconds{600};
        CHECK(numbers.help.is_due());
        numbers.robot.frames();
        CHECK(numbers.shown() == "This is the first number.");
        CHECK_FALSE(numbers.help.is_waiting());
        numbers.robot.point_at(700, 500, 0);
        numbers.robot.frames();
        CHECK(numbers.shown().empty());
        CHECK_FALSE(numbers.help.is_waiting());
    }
}
