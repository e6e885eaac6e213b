// The page, drawn without a window and driven by keys and mouse.
#include "bench/pages/bench/bench_screen.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "bench/pages/bench/a_view.h"
#include "bench/widgets/keys.h"
#include "support/near.h"
#include "support/robot.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;

namespace {

// The page with a robot before it; what is posted is kept.
struct Seat {
    View view = a_view();
    Form form;
    Outbox<Command> outbox;
    bool is_large = false;
    Robot robot;

    explicit Seat(float width = 1280, float height = 800, ThemeName theme = ThemeName::light,
                  float scale = 1.0F)
        : robot(
              width, height,
              [this](const Look& given) {
                  Look look = given;
                  look.is_large = is_large;
                  draw_question(look, view, outbox, 700 * look.scale, 36 * look.scale);
                  bench_page::draw(look, view, form, outbox);
                  for (const Command& command : outbox.commands) empty_added(command);
              },
              theme, scale) {
        go_to(form, ReadingField::sample_length);
        robot.frames();
    }
    // As the program does after a diameter was added.
    void empty_added(const Command& command) {
        const auto* save = std::get_if<SaveReading>(&command);
        if (save != nullptr && save->field == ReadingField::diameters) {
            form.typed.text(save->field).clear();
        }
    }
};

}  // namespace

TEST_SUITE("The page at the bench") {
    TEST_CASE("its main button confirms") {
        Seat seat;
        seat.robot.click("confirm");
        CHECK(seat.outbox.take() == std::vector<Command>{Confirm{"T-11"}});
    }

    TEST_CASE("Ctrl+Enter confirms from within a field") {
        Seat seat;
        CHECK(seat.robot.see("sample_length").active);
        seat.robot.press_with_control(key::enter);
        CHECK(seat.outbox.take() == std::vector<Command>{Confirm{"T-11"}});
    }

    TEST_CASE("devices type a whole coil without a hand on the keyboard") {
        Seat seat;
        seat.robot.type("25\n22.9\n0.942\n0.945\n\n15.2\n24\n4.1\n");
        CHECK(seat.outbox.take() ==
              std::vector<Command>{saving(ReadingField::sample_length, "25"),
                                   saving(ReadingField::sample_weight, "22.9"),
                                   saving(ReadingField::diameters, "0.942"),
                                   saving(ReadingField::diameters, "0.945"),
                                   saving(ReadingField::submerged_weight, "15.2"),
                                   saving(ReadingField::sink_distance, "24"),
                                   saving(ReadingField::sink_time, "4.1")});
        CHECK(seat.form.spot == ReadingField::water_temperature);
    }

    TEST_CASE("after a refusal the next number of a device replaces what was refused") {
        for (const bool at_once : {true, false}) {
            CAPTURE(at_once);
            Seat seat;
            seat.robot.burst("12,5\n");
            if (!at_once) seat.robot.frames(30);
            seat.robot.burst("25\n");
            seat.robot.frames();
            CHECK(seat.outbox.take() ==
                  std::vector<Command>{saving(ReadingField::sample_length, "25", "12,5")});
            CHECK(seat.form.spot == ReadingField::sample_weight);
        }
    }

    TEST_CASE("a refused text can be mended by hand as well: End, and go on") {
        Seat seat;
        seat.robot.type("12.5 inn\n");
        seat.robot.press(key::end);
        seat.robot.press(key::backspace);
        seat.robot.type("\n");
        CHECK(seat.outbox.take() ==
              std::vector<Command>{saving(ReadingField::sample_length, "12.5 in", "12.5 inn")});
    }

    TEST_CASE("a reading is taken back by its key and by its button") {
        Seat seat;
        seat.form.typed.text(ReadingField::sample_length) = "24";  // as it is saved
        seat.form.rewritten = ReadingField::sample_length;
        seat.robot.frames();
        seat.robot.press_with_control('T');
        CHECK(seat.outbox.take() ==
              std::vector<Command>{TakeBackReading{ReadingField::sample_length}});
        seat.robot.click("take back sample_length");
        CHECK(seat.outbox.take() ==
              std::vector<Command>{TakeBackReading{ReadingField::sample_length}});
        CHECK_FALSE(seat.robot.sees("take back sample_weight"));  // not the field at hand
    }

    TEST_CASE("Ctrl Z is the catalogue's, unless something is typed in the field") {
        Seat seat;
        seat.form.typed.text(ReadingField::sample_length) = "24";  // as it is saved
        seat.form.rewritten = ReadingField::sample_length;
        seat.robot.frames();
        seat.robot.press_with_control('Z');
        CHECK(seat.outbox.take() == std::vector<Command>{Undo{}});
        seat.robot.type("9");
        seat.robot.press_with_control('Z');
        CHECK(seat.outbox.take().empty());
    }

    TEST_CASE("what is typed and taken back is gone from the field that is being edited, too") {
        Seat seat;
        seat.robot.type("99");
        seat.robot.press_with_control('T');
        seat.robot.type("\n");
        CHECK(seat.outbox.take().empty());  // what is saved stands there again
        CHECK(seat.form.typed.text(ReadingField::sample_length) == "24");
    }

    TEST_CASE("after a click on a button the keyboard is back in its field") {
        Seat seat;
        seat.robot.click("next coil");
        seat.robot.frames(8);
        CHECK(seat.robot.see("sample_length").active);
        seat.outbox.commands.clear();
        seat.robot.type("26\n");
        CHECK(seat.outbox.take() ==
              std::vector<Command>{saving(ReadingField::sample_length, "26")});
    }

    TEST_CASE("a click goes to a field, and the arrows walk on from it") {
        Seat seat;
        seat.robot.click("sink_time");
        CHECK(seat.form.spot == ReadingField::sink_time);
        seat.robot.press(key::down);
        CHECK(seat.form.spot == ReadingField::water_temperature);
        CHECK(seat.robot.see("water_temperature").active);
        seat.robot.press(key::up);
        seat.robot.press(key::up);
        CHECK(seat.form.spot == ReadingField::sink_distance);
        CHECK(seat.robot.see("sink_distance").active);
    }

    TEST_CASE("what the person wants to know is changed by button and by key") {
        Seat seat;
        seat.robot.click("ask");
        CHECK(seat.outbox.take() == std::vector<Command>{AskNext{}});
        seat.robot.press(key::f3);
        CHECK(seat.outbox.take() == std::vector<Command>{AskNext{}});
        seat.robot.press(key::f4);
        CHECK(seat.outbox.take() == std::vector<Command>{AskInOtherOrder{}});
        CHECK(seat.robot.see("sample_length").active);
    }

    TEST_CASE("notes are typed below the readings") {
        Seat seat;
        go_to(seat.form, ReadingField::whole_weight);
        seat.robot.frames();
        seat.robot.press(key::down);
        CHECK(seat.robot.see("notes").active);
        seat.robot.type("from the drift boat\n");
        CHECK(seat.outbox.take() == std::vector<Command>{SaveNotes{"from the drift boat"}});
    }

    TEST_CASE("the instrument on the bench is changed by button and by key") {
        Seat seat;
        seat.view.tools = {{Tool::scale, {"", "S2"}, "Scale default", "F6"}};
        seat.robot.frames();
        seat.robot.click("tool F6");
        CHECK(seat.form.tools.scale == "S2");
        seat.robot.press(key::f6);
        CHECK(seat.form.tools.scale.empty());
    }

    TEST_CASE("Ctrl+G goes to the reading that would help most") {
        Seat seat;
        seat.robot.press_with_control('G');
        CHECK(seat.robot.see("sink_time").active);
    }

    TEST_CASE("a word is typed, or picked by arrow and by mouse") {
        Seat seat;
        go_to(seat.form, ReadingField::tint);
        seat.robot.frames();
        seat.robot.type("dark\n");
        CHECK(seat.outbox.take() == std::vector<Command>{saving(ReadingField::tint, "dark")});
        CHECK(seat.form.spot == ReadingField::taper);
        seat.robot.press(key::right);
        CHECK(seat.form.typed.text(ReadingField::taper) == "level");
        seat.robot.press(key::enter);
        CHECK(seat.outbox.take() == std::vector<Command>{saving(ReadingField::taper, "level")});
        seat.robot.click("floats");  // its middle is the beginning of the second word
        CHECK(seat.outbox.take() == std::vector<Command>{saving(ReadingField::floats, "no")});
    }

    TEST_CASE("a scanner's code and its Enter may come within one frame") {
        Seat seat;
        seat.robot.press_with_control('F');
        seat.robot.type("b12\n");
        CHECK(seat.outbox.take() == std::vector<Command>{EnterCode{"b12"}});
    }

    TEST_CASE("Ctrl+F empties the field for codes even while it is being typed in") {
        Seat seat;
        seat.robot.press_with_control('F');
        seat.robot.type("8.2");
        seat.robot.press_with_control('F');
        seat.robot.type("b2\n");
        CHECK(seat.outbox.take() == std::vector<Command>{EnterCode{"b2"}});
    }

    TEST_CASE("a coil is picked up by a click in the bin") {
        Seat seat;
        seat.robot.click("coil B12");
        CHECK(seat.outbox.take() == std::vector<Command>{ChooseCoil{coil_id(4)}});
    }

    TEST_CASE("a less probable class can be chosen for confirming, by mouse and by key") {
        Seat seat;
        seat.robot.click("bar T-10");
        CHECK(seat.form.chosen_class == "T-10");
        seat.robot.press_with_control('2');
        CHECK(seat.form.chosen_class == "size 8 type 6");
    }

    TEST_CASE("a failure of the machine is told and can be closed; the typed text stays") {
        Seat seat;
        seat.robot.type("77");
        seat.view.failure = "saving a reading: the disk is full";
        seat.robot.frames();
        CHECK(seat.robot.see("failure").says == "saving a reading: the disk is full");
        CHECK(seat.form.typed.text(ReadingField::sample_length) == "77");
        seat.robot.click("close failure");
        CHECK(seat.outbox.take() == std::vector<Command>{CloseFailure{}});
    }

    TEST_CASE("everything that a decision needs is in sight in a small window") {
        for (const ThemeName theme : {ThemeName::light, ThemeName::dark}) {
            Seat seat(1280, 720, theme);
            for (const char* name : {"code", "sample_length", "whole_weight", "notes", "verdict",
                                     "certainty", "next reading", "confirm", "next coil", "plot",
                                     "bar T-11", "bar T-10", "gist", "fishes like", "next cost"}) {
                CAPTURE(name);
                REQUIRE(seat.robot.sees(name));
                const Seen& seen = seat.robot.see(name);
                CHECK(seen.visible);
                CHECK(seen.left >= 0);
                CHECK(seen.top >= 0);
                CHECK(seen.right <= 1280);
                CHECK(seen.bottom <= 720);
            }
        }
    }

    TEST_CASE("a decision is never cut by the edge of its card, and the picture keeps some room") {
        for (const float height : {720.0F, 800.0F, 1024.0F}) {
            CAPTURE(height);
            Seat seat(1280, height);
            const Seen& next = seat.robot.see("next reading");
            const Seen& plot = seat.robot.see("plot");
            CHECK(next.bottom < plot.top);
            CHECK(plot.bottom - plot.top >= 110);
            CHECK(plot.bottom < seat.robot.see("confirm").top);
        }
    }

    TEST_CASE("where there is room, the facts are in sight, too") {
        Seat seat(1280, 1024);
        CHECK(seat.robot.see("Weight per foot").visible);
        CHECK(seat.robot.see("Sink rate in still water").visible);
    }

    TEST_CASE("the bin is as wide as its names need, within bounds and by the size of the text") {
        const auto width_of_row = [](const char* longest, float scale) {
            Seat seat(1280 * scale, 800 * scale, ThemeName::light, scale);
            seat.view.bin.longest = longest;
            seat.robot.frames();
            return (seat.robot.see("coil A8").right - seat.robot.see("coil A8").left) / scale;
        };
        const float narrow = width_of_row("T-8", 1),
                    wide = width_of_row("size 11 intermediate tip", 1);
        CHECK(wide > narrow);
        CHECK(near(width_of_row("size 11 intermediate tip", 2), wide, 4.0F));
        CHECK(width_of_row("a name that goes on and on and on and on and on and on", 1) < 260);
    }

    TEST_CASE("what was done last is told in full, whatever hints must make room for it") {
        Seat seat(1280, 720);
        seat.view.message = "Saved: weight under water of K8P4 22.4 gr, in place of '22,4 or so'";
        seat.robot.frames();
        const Seen& message = seat.robot.see("message");
        CHECK(message.visible);
        CHECK(message.right <= 1280);
        CHECK(message.right - message.left > 350);  // not cut
    }

    TEST_CASE("the space bar is the stopwatch's while its field is empty, and a space else") {
        Seat seat;
        ReadingRow& time =
            *std::ranges::find(seat.view.readings, ReadingField::sink_time, &ReadingRow::field);
        time.takes_space = false;
        go_to(seat.form, ReadingField::sink_time);
        seat.robot.frames();
        seat.robot.type(" ");
        CHECK(seat.outbox.take() == std::vector<Command>{PressStopwatch{}});
        CHECK(seat.form.typed.text(ReadingField::sink_time).empty());
        time.is_running = true;
        seat.robot.type("\n");  // Enter stops it, too
        CHECK(seat.outbox.take() == std::vector<Command>{PressStopwatch{}});
        seat.robot.press(key::escape);
        CHECK(seat.outbox.take() == std::vector<Command>{DropStopwatch{}});
        time.is_running = false;
        time.takes_space = true;
        go_to(seat.form, ReadingField::sink_time);
        seat.robot.frames();
        seat.robot.type("6 s");
        CHECK(seat.form.typed.text(ReadingField::sink_time) == "6 s");
        CHECK(seat.outbox.take().empty());
    }

    TEST_CASE("for cold fingers there is one field at a time, and the answer in large type") {
        Seat seat;
        seat.is_large = true;
        seat.robot.frames();
        CHECK(seat.robot.see("sample_length").active);
        CHECK_FALSE(seat.robot.sees("sample_weight"));
        CHECK(seat.robot.sees("verdict"));
        seat.robot.type("25\n");
        CHECK(seat.outbox.take() ==
              std::vector<Command>{saving(ReadingField::sample_length, "25")});
        CHECK(seat.robot.see("sample_weight").active);
        seat.robot.press(key::down);
        seat.robot.frames();
        CHECK(seat.robot.see("diameters").active);
        seat.robot.click("confirm");
        CHECK(seat.outbox.take() == std::vector<Command>{Confirm{"T-11"}});
        CHECK(seat.robot.see("diameters").active);
    }

    TEST_CASE("targets are large enough for cold fingers") {
        Seat seat(1280, 720);
        for (const char* name : {"confirm", "next coil", "coil B12"}) {
            CAPTURE(name);
            CHECK(seat.robot.see(name).bottom - seat.robot.see(name).top >= 44);
        }
        const Seen& field = seat.robot.see("sample_length");
        CHECK(field.bottom - field.top >= 34);
    }

    TEST_CASE("without a coil in hand there is nothing to type a reading into") {
        Seat seat;
        seat.view.has_coil = false;
        seat.robot.frames();
        CHECK_FALSE(seat.robot.sees("sample_length"));
        CHECK_FALSE(seat.robot.sees("confirm"));
        CHECK(seat.robot.sees("code"));
    }

    TEST_CASE("twice the scale draws the same page twice as large") {
        float width = 0;
        {
            Seat one(1280, 800);
            width = one.robot.see("confirm").right - one.robot.see("confirm").left;
        }
        Seat two(2560, 1600, ThemeName::light, 2.0F);
        CHECK(near(two.robot.see("confirm").right - two.robot.see("confirm").left, 2 * width, 2.0));
    }
}
