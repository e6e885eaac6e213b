// Devices that type, through the real widgets: three fields in a row, as at the bench.
#include <doctest/doctest.h>

#include <array>
#include <string>
#include <utility>
#include <vector>

#include <imgui.h>

#include "bench/widgets/field.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"

using namespace coilbook::bench;

namespace {

// Enter in a field keeps its text and goes on to the next.
struct ThreeFields {
    std::array<std::string, 3> typed;
    std::size_t in_hand = 0;
    bool take_focus = true;
    std::vector<std::string> kept;

    void draw(const Look& look) {
        constexpr std::array<std::string_view, 3> ids{"first", "second", "third"};
        const bool focus = std::exchange(take_focus, false);
        for (std::size_t at = 0; at < 3; ++at) {
            const FieldResult result =
                number_field(look, {ids[at], ids[at], "gr", {}, {}, {}}, {120, 160, 0}, typed[at],
                             focus && at == in_hand);
            if (result.entered) {
                kept.push_back(std::exchange(typed[at], ""));
                in_hand = (at + 1) % 3;
                take_focus = true;
            }
        }
    }
};

}  // namespace

TEST_SUITE("Devices that type, into real fields") {
    TEST_CASE("a burst within a single frame is kept whole, and each value lands in its field") {
        ThreeFields fields;
        Robot robot(800, 600, [&](const Look& look) { fields.draw(look); });
        robot.frames();
        for (int burst = 0; burst < 20; ++burst) robot.burst("3.21\n45.6\n7.8\n");
        robot.frames();
        REQUIRE(fields.kept.size() == 60);
        for (std::size_t at = 0; at < fields.kept.size(); at += 3) {
            CAPTURE(at);
            CHECK(fields.kept[at] == "3.21");
            CHECK(fields.kept[at + 1] == "45.6");
            CHECK(fields.kept[at + 2] == "7.8");
        }
    }

    TEST_CASE("characters that come before a field has the focus are not lost") {
        ThreeFields fields;
        Robot robot(800, 600, [&](const Look& look) { fields.draw(look); });
        robot.burst("22.4\n");
        robot.frames();
        REQUIRE(fields.kept.size() == 1);
        CHECK(fields.kept[0] == "22.4");
    }

    TEST_CASE("backspace takes away the last character, not one that comes after it") {
        ThreeFields fields;
        Robot robot(800, 600, [&](const Look& look) { fields.draw(look); });
        robot.frames();
        robot.burst("129");
        robot.press(key::backspace);
        robot.burst("3\n");
        robot.frames();
        REQUIRE(fields.kept.size() == 1);
        CHECK(fields.kept[0] == "123");
    }

    TEST_CASE("a click goes to the field under it, and typing replaces what it holds") {
        ThreeFields fields;
        fields.typed[2] = "old";
        Robot robot(800, 600, [&](const Look& look) { fields.draw(look); });
        robot.frames();
        robot.click("third");
        robot.burst("5\n");
        robot.frames();
        REQUIRE(fields.kept.size() == 1);
        CHECK(fields.kept[0] == "5");
    }
}
