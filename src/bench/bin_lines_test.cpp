#include "bench/bin_lines.h"

#include <doctest/doctest.h>

#include "bench/number_words.h"
#include "quantity/units.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

BinLine a_line(std::uint8_t number, const char* code, app::CoilState state, const char* what,
               std::optional<double> grains_per_foot, const char* notes = "") {
    BinLine line{.coil = Id<Coil>::make(Instant{}, RandomBytes{0, 0, 0, 0, 0, 0, 0, 0, 0, number}),
                 .code = code,
                 .notes = notes,
                 .is_known = true,
                 .summary = {},
                 .text = {}};
    line.summary.state = state;
    line.summary.label.name = what;
    if (grains_per_foot) {
        line.summary.facts.linear_density = {*grains_per_foot * grain_per_foot,
                                             0.05 * grain_per_foot};
    }
    line.text = searchable(line);
    return line;
}

const std::vector<BinLine> some_lines{
    a_line(1, "A7", app::CoilState::confirmed, "T-14", 13.9),
    a_line(2, "A8", app::CoilState::ready, "T-11", 11.1, "Loop worn"),
    a_line(3, "B1", app::CoilState::unmeasured, "", {}),
    a_line(4, "B2", app::CoilState::needs_reading, "T-8", 8.0)};

using Places = std::vector<std::size_t>;

Places places(std::string_view typed, std::optional<app::CoilState> state = {},
              const Order& order = {}) {
    return found(some_lines, wanted_from(typed, state), order);
}

}  // namespace

TEST_SUITE("Searching and sorting the bin") {
    TEST_CASE("every word must be somewhere in the line; capitals are forgiven") {
        CHECK(places("t-1") == Places{0, 1});
        CHECK(places("LOOP worn") == Places{1});
        CHECK(places("a t-14") == Places{0});
        CHECK(places("ready t-14").empty());
        CHECK(places("   ") == Places{0, 1, 2, 3});
    }

    TEST_CASE("a range of weight per foot, open on one side too") {
        CHECK(places("8..11.5") == Places{1, 3});
        CHECK(places("11.5..") == Places{0});
        CHECK(places("..8") == Places{3});
        CHECK(places("8..12 loop") == Places{1});
    }

    TEST_CASE("what only looks like a range is a word") {
        // 2 g/m are 9.41 gr/ft, 2.5 g/m are 11.76.
        CHECK(places("2..2.5 g/m") == Places{1});
        CHECK(places("10..12 gr/ft", {}, {}) == places("10..12"));
        CHECK(found(some_lines, wanted_from("2..2.5", {}, grams_and_metres), {}) == Places{1});
        CHECK(found(some_lines, wanted_from("loop 10..12 gr/ft", {}, grams_and_metres), {}) ==
              Places{1});
        CHECK(with_unit_said("loop 10..12", grains_and_feet) == "loop 10..12 gr/ft");
        CHECK(with_unit_said("10..12 g/m worn", grains_and_feet) == "10..12 g/m worn");
        CHECK(with_unit_said("a..b ..", grains_and_feet) == "a..b ..");
        CHECK(wanted_from("..", {}).words == std::vector<std::string>{".."});
        CHECK(wanted_from("a..b", {}).words == std::vector<std::string>{"a..b"});
    }

    TEST_CASE("only coils of one state") {
        CHECK(places("", app::CoilState::ready) == Places{1});
        auto unknown = some_lines;
        unknown[1].is_known = false;  // not worked out yet: nobody knows its state
        CHECK(found(unknown, wanted_from("", app::CoilState::ready), {}).empty());
    }

    TEST_CASE("lines without a figure come last either way round") {
        CHECK(places("", {}, {SortBy::weight, false}) == Places{3, 1, 0, 2});
        CHECK(places("", {}, {SortBy::weight, true}) == Places{0, 1, 3, 2});
        CHECK(places("", {}, {SortBy::what, true}) == Places{3, 0, 1, 2});
        CHECK(places("", {}, {SortBy::notes, false}) == Places{1, 0, 2, 3});
    }

    TEST_CASE("the states are counted") {
        CHECK(counted(some_lines) == Places{1, 1, 1, 1});
    }
}

TEST_SUITE("Help on numbers") {
    TEST_CASE("every number and every reading has whole sentences, in either units") {
        const auto is_whole = [](const std::string& words) {
            CAPTURE(words);
            CHECK(words.size() > 60);
            CHECK(words.ends_with("."));
            CHECK(words.find("{}") == std::string::npos);
            CHECK(words.find("  ") == std::string::npos);
        };
        for (const Units& units : {grains_and_feet, grams_and_metres}) {
            for (int number = 0; number < numbers; ++number) {
                is_whole(help_on(static_cast<Number>(number), units));
            }
            for (const auto field : all_reading_fields) is_whole(help_on(field, units));
        }
    }

    TEST_CASE("in grams and metres no number is explained in grains, feet or inches") {
        for (int number = 0; number < numbers; ++number) {
            // These two are names that the trade gives in its own units.
            const auto each = static_cast<Number>(number);
            if (each == Number::grain_class || each == Number::density_grade) continue;
            const std::string words = help_on(each, grams_and_metres);
            CAPTURE(words);
            for (const char* other : {"gr/ft", "in/s", "grain", " foot", " inch"}) {
                CHECK(words.find(other) == std::string::npos);
            }
        }
    }
}
