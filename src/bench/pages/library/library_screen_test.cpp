// The page, drawn without a window and driven by keys and mouse.
#include "bench/pages/library/library_screen.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <ctime>
#include <set>

#include "bench/pages/library/a_library.h"
#include "bench/pages/library/library_actions.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::library_page;

namespace {

// The page with a robot before it; what is posted is kept.
struct Seat {
    Situation situation = a_situation();
    Form form;
    Form shown;
    View view;
    Outbox<Command> outbox;
    Robot robot;

    explicit Seat(float width = 1280, float height = 800, ThemeName theme = ThemeName::light,
                  float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& look) {
                  if (!form.asks_the_same(shown)) look_again();
                  library_page::draw(look, view, form, outbox);
              },
              theme, scale) {
        form.chosen_class = "T-11";
        look_again();
        robot.frames(8);
    }
    void look_again() {
        view = view_of(form, situation);
        shown = form;
    }
};

}  // namespace

TEST_SUITE("The page Library") {
    TEST_CASE("whatever is typed goes into the filter") {
        Seat seat;
        CHECK(seat.robot.see("filter").active);
        seat.robot.type("leader");
        CHECK(seat.form.filter == "leader");
        CHECK(seat.robot.sees("class leader 5 in/s"));
        CHECK_FALSE(seat.robot.sees("class T-8"));
        seat.robot.press_with_control('F');
        CHECK(seat.form.filter.empty());
        CHECK(seat.robot.see("filter").active);
    }

    TEST_CASE("arrows and Page keys move, a click chooses") {
        Seat seat;
        seat.robot.press(key::down);
        seat.robot.press(key::up);
        seat.robot.press(key::page_down);
        CHECK(seat.outbox.take() ==
              std::vector<Command>{StepClass{1}, StepClass{-1}, StepClass{10}});
        seat.robot.click("class T-8");
        CHECK(seat.outbox.take() == std::vector<Command>{ChooseClass{"T-8"}});
    }

    TEST_CASE("Enter and F3 zoom to the chosen class, and the whole map comes back") {
        Seat seat;
        seat.robot.type("\n");
        REQUIRE(seat.form.window.has_value());
        seat.form.window.reset();
        seat.robot.press(key::f1 + 2);
        REQUIRE(seat.form.window.has_value());
        seat.robot.frames(8);
        seat.robot.click("whole plot");
        CHECK_FALSE(seat.form.window.has_value());
    }

    TEST_CASE("the wheel looks closer, a drag moves, and neither chooses anything") {
        Seat seat;
        seat.robot.turn_wheel("map", 3.0F);
        REQUIRE(seat.form.window.has_value());
        const PlotWindow before = *seat.form.window;
        seat.robot.drag("map", 60, 30);
        REQUIRE(seat.form.window.has_value());
        CHECK(seat.form.window->x.low < before.x.low);  // what was further left has come in
        CHECK(seat.form.window->y.low > before.y.low);  // and what was further up
        seat.robot.frames(40);                          // no double click
        seat.robot.drag("map", -60, 30, true);
        CHECK(seat.outbox.take().empty());
        seat.robot.turn_wheel("map", -30.0F);
        CHECK_FALSE(seat.form.window.has_value());
    }

    TEST_CASE("the doubtful confirmation is taken back by its key and by its button") {
        Seat seat;
        seat.robot.press_with_control('T');
        CHECK(seat.outbox.take() == std::vector<Command>{TakeBack{coil_id(2)}});
        seat.robot.click("take back B7");
        CHECK(seat.outbox.take() == std::vector<Command>{TakeBack{coil_id(2)}});
        seat.form.chosen_class = "T-8";
        seat.robot.frames();
        seat.robot.press_with_control('T');
        CHECK(seat.outbox.take().empty());
    }

    TEST_CASE("Ctrl Z and Ctrl G are the page's") {
        Seat seat;
        seat.robot.press_with_control('Z');
        seat.robot.press_with_control('G');
        CHECK(seat.outbox.take() == std::vector<Command>{Undo{}, NextDoubt{}});
    }

    TEST_CASE("no two of its actions have the same name, words or key") {
        Seat seat;
        std::set<std::string_view> names, words;
        std::set<std::string> chords;
        const auto actions = library_actions(seat.view, seat.form);
        for (const Action& action : actions) {
            names.insert(action.name);
            words.insert(action.says);
            chords.insert(name_of(action.chord));
        }
        CHECK(names.size() == actions.size());
        CHECK(words.size() == actions.size());
        CHECK(chords.size() == actions.size());
    }

    TEST_CASE("while the list of all actions covers it, it leaves the keyboard alone") {
        Situation situation = a_situation();
        Form form;
        form.chosen_class = "T-11";
        const View view = view_of(form, situation);
        Outbox<Command> outbox;
        Robot robot(1280, 800,
                    [&](const Look& look) { library_page::draw(look, view, form, outbox, true); });
        robot.frames(8);
        robot.press(key::down);
        CHECK(outbox.take().empty());
        CHECK(form.frames_to_focus == 0);
    }

    TEST_CASE("it is drawn at every size and in both themes, with and without anything to show") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const ThemeName name : {ThemeName::light, ThemeName::dark}) {
                for (const float width : {700.0F, 1280.0F, 1920.0F}) {
                    CAPTURE(width);
                    Seat seat(width * scale, 720 * scale, name, scale);
                    CHECK(seat.robot.sees("map"));
                    CHECK(seat.robot.see("about").says == "T-11");
                    seat.situation.score = a_score(20, 18, 0.9);
                    seat.look_again();
                    seat.robot.frames();
                    CHECK(seat.robot.sees("score Class"));
                    seat.situation = {};
                    seat.form.chosen_class.clear();
                    seat.look_again();
                    seat.robot.frames();
                    CHECK(seat.robot.sees("map"));
                }
            }
        }
    }

    // Measured on an idle machine and told, not held to: other programs run beside the tests.
    TEST_CASE("a hundred classes and ten thousand confirmed coils") {
        Seat seat;
        auto& situation = seat.situation;
        for (int at = 0; at < 100; ++at) {
            situation.classes.push_back(
                a_sheet(("extra " + std::to_string(at)).c_str(),
                        at % 3 == 0 ? Family::level_line : Family::matched_tip, 4.0 + 0.2 * at,
                        1.2 + 0.03 * at));
        }
        for (int at = 0; at < 10'000; ++at) {
            const double turn = 2.399963 * at, far = 0.05 * std::sqrt(at % 100);
            situation.examples.push_back(an_example(
                3, ("C" + std::to_string(at)).c_str(),
                ("extra " + std::to_string(at / 100)).c_str(),
                a_line((4.0 + 0.2 * (at / 100)) * std::exp(far * 0.3 * std::cos(turn)),
                       (1.2 + 0.03 * (at / 100)) * std::exp(far * 0.5 * std::sin(turn)))));
        }
        const auto milliseconds = [](const auto& work, int times) {
            const std::clock_t start = std::clock();
            for (int time = 0; time < times; ++time) work();
            return 1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC / times;
        };
        const double ground = milliseconds(
            [&] { situation.ground = ground_of(situation.classes, situation.examples); }, 1);
        const double model = milliseconds([&] { seat.look_again(); }, 5);
        const double frame = milliseconds([&] { seat.robot.frames(1); }, 20);
        MESSAGE("own CPU time: the ground of the map " << ground << " ms, a new view " << model
                                                       << " ms, a frame " << frame << " ms");
        CHECK(seat.robot.sees("map"));
    }

    TEST_CASE("keys begin each change of the library, and Esc leaves it") {
        Seat seat;
        for (const auto& [chord, task] : {std::pair{'E', Task::change},
                                          {'N', Task::add},
                                          {'D', Task::split},
                                          {'J', Task::join}}) {
            seat.robot.press_with_control(chord);
            CHECK(seat.outbox.take() == std::vector<Command>{BeginTask{task}});
        }
        seat.robot.click("change class");
        CHECK(seat.outbox.take() == std::vector<Command>{BeginTask{Task::change}});
        seat.form.task = Task::join;
        seat.form.typed = {""};
        seat.robot.frames(8);
        seat.robot.press(key::down);
        seat.robot.press(key::escape);
        CHECK(seat.outbox.take() == std::vector<Command>{LeaveTask{}});
    }

    TEST_CASE("Enter goes from field to field, and from the last one does it") {
        Seat seat;
        seat.form.task = Task::add;
        seat.form.typed.assign(10, "");
        seat.form.was_rewritten = true;
        seat.form.frames_to_focus = 3;
        seat.robot.frames(8);
        seat.robot.type("green box\n");
        seat.robot.frames(8);
        CHECK(seat.form.typed[0] == "green box");
        seat.robot.type("l\n");
        seat.robot.frames(8);
        CHECK(seat.form.typed[1] == "level line");
        CHECK(seat.form.field == 2);
        seat.form.field = 9;
        seat.form.frames_to_focus = 3;
        seat.robot.frames(8);
        seat.robot.type("2\n");
        CHECK(seat.outbox.take() == std::vector<Command>{FinishTask{}});
        seat.form.typed[9] = "2";
        seat.robot.click("do it");
        CHECK(seat.outbox.take() == std::vector<Command>{FinishTask{}});
    }

    TEST_CASE("every task is drawn at every size") {
        for (const float scale : {1.0F, 2.0F}) {
            for (const float width : {700.0F, 1280.0F, 1920.0F}) {
                CAPTURE(width);
                Seat seat(width * scale, 720 * scale, ThemeName::dark, scale);
                for (const auto& [task, fields] :
                     {std::pair{Task::change, 10}, {Task::split, 4}, {Task::join, 1}}) {
                    seat.form.task = task;
                    seat.form.typed.assign(static_cast<std::size_t>(fields), "");
                    seat.robot.frames();
                    CHECK(seat.robot.sees("task"));
                    CHECK(seat.robot.sees("do it"));
                }
            }
        }
    }
}
