// What the page of one coil says: facts with their sources, sinking by water, place and balance.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "app/coil_changes.h"
#include "app/coil_place.h"
#include "app/custody.h"
#include "app/fact_sources.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "app/sink_by_water.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

struct Bench {
    Workshop workshop = workshop_in_memory();
    Coil coil = add_coil(workshop, "A7").value();

    void read(ReadingField field, const char* text) {
        REQUIRE(record_reading(workshop, coil, field, text).has_value());
    }
    void measure() {
        read(ReadingField::sample_length, "24 in");
        read(ReadingField::sample_weight, "22.4 gr");
        read(ReadingField::diameters, "0.85 mm");
    }
};

}  // namespace

TEST_SUITE("Where facts come from") {
    TEST_CASE("the worked example of the README, with the readings behind each figure") {
        Bench bench;
        bench.measure();
        const auto sources = fact_sources(bench.workshop, bench.coil);
        REQUIRE(sources.size() == 4);
        CHECK(sources[0].value == "11.200 ± 0.034 gr/ft");
        REQUIRE(sources[0].readings.size() == 2);
        CHECK(sources[0].readings[1].what == "sample weight");
        CHECK(sources[0].readings[1].as_written == "22.4 gr");
        CHECK(sources[0].readings[1].instrument == "the usual scale");
        CHECK(sources[0].budget.front().origin == "scale");
        CHECK(sources[2].formula == "ρ = 4 λ / (π d²)");
        CHECK(sources[2].readings.size() == 3);
        CHECK(sources[3].name == "Sinks, still water");
        CHECK(sources[3].value == "7.07 ± 0.25 in/s");
        CHECK(sources[3].budget.front().origin == "drag law");
        for (const auto& source : sources) {
            double sum = 0;
            for (const auto& part : source.budget) sum += part.share;
            CHECK(std::abs(sum - 1.0) < 0.01);
            CHECK_FALSE(source.basis.empty());
        }
    }

    TEST_CASE("in grams and metres the figures change and what was written does not") {
        Bench bench;
        bench.measure();
        const auto sources = fact_sources(bench.workshop, bench.coil, grams_and_metres);
        CHECK(sources[0].name == "Weight per metre");
        CHECK(sources[0].value == "2.3811 ± 0.0073 g/m");
        CHECK(sources[0].readings[1].as_written == "22.4 gr");
        CHECK(sources[1].value == fact_sources(bench.workshop, bench.coil)[1].value);
        CHECK(sources[3].value == "17.95 ± 0.64 cm/s");
    }

    TEST_CASE("what is not known says what would tell it") {
        Bench bench;
        for (const auto& source : fact_sources(bench.workshop, bench.coil)) {
            CHECK(source.value.empty());
            CHECK(source.formula.empty());
            CHECK_FALSE(source.lacks.empty());
        }
        bench.read(ReadingField::diameters, "0.85 mm 0.86 mm 0.84 mm");
        const auto sources = fact_sources(bench.workshop, bench.coil);
        CHECK_FALSE(sources[1].value.empty());
        REQUIRE(sources[1].readings.size() == 1);
        CHECK(sources[1].readings[0].as_written == "0.85, 0.86, 0.84 mm");
        CHECK(sources[2].value.empty());
    }
}

TEST_SUITE("Sinking by water") {
    TEST_CASE("colder and saltier water holds a line up; the rate at 10 °C is the fact's") {
        Bench bench;
        bench.measure();
        const auto course = sink_by_water(bench.workshop, bench.coil);
        REQUIRE(course.size() == 26);
        for (std::size_t at = 0; at < course.size(); ++at) {
            CHECK(course[at].sea.value < course[at].fresh.value);
            CHECK(course[at].fresh.uncertainty > Speed{});
            if (at > 0) CHECK(course[at].fresh.value > course[at - 1].fresh.value);
        }
        // 7.07 ± 0.25 in/s, worked out in the README.
        CHECK(std::abs(course[10].fresh.value.in(inch_per_second)-7.07) < 0.005);
        CHECK(std::abs(course[10].fresh.uncertainty.in(inch_per_second)-0.25) < 0.005);
    }

    TEST_CASE("as rows, and a Problem where the readings do not tell") {
        Bench bench;
        std::ostringstream out;
        CHECK_FALSE(write_sink_by_water(bench.workshop, bench.coil, out, Format::csv).has_value());
        CHECK(out.str().empty());
        bench.measure();
        REQUIRE(write_sink_by_water(bench.workshop, bench.coil, out, Format::csv).has_value());
        CHECK(
            out.str().starts_with("temperature_c,fresh_in_s,fresh_in_s_u,sea_in_s,sea_in_s_u\n0,"));
        CHECK(std::ranges::count(out.str(), '\n') == 27);
    }
}

TEST_SUITE("Where one coil is") {
    TEST_CASE("it is in the bin, then in a rig that is with a boat") {
        Bench bench;
        CHECK(place_of(bench.workshop, bench.coil).now == "in the bin");
        RigWords words;
        words.code = "R1";
        words.line_size = LineSize{11};
        const auto rig = add_rig(bench.workshop, words).value();
        REQUIRE(add_boat(bench.workshop, "Heron", 3, "").has_value());
        REQUIRE(string_rig(bench.workshop, rig, {"A7"}, RigRole::wallet).has_value());
        REQUIRE(
            hand_over(bench.workshop, {Whereabouts::boat, "Heron", {}, {}, {"R1"}}).has_value());
        const auto place = place_of(bench.workshop, bench.coil);
        CHECK(place.now == "in the wallet of rig R1, the rig with boat Heron");
        REQUIRE(place.steps.size() == 1);
        CHECK(place.steps[0].place == "in the wallet of rig R1");
        CHECK_FALSE(place.is_disputed);
        CHECK(mentions(where_is(bench.workshop, "A7").value(), place.now));
    }

    TEST_CASE("what it balances on is said by the library and the rigs, or why it is not") {
        Bench bench;
        RigWords words;
        words.code = "R1";
        words.line_size = LineSize{8};
        REQUIRE(add_rig(bench.workshop, words).has_value());
        const auto tip = balance_of(bench.workshop, "size 8 type 6 tip", {});
        CHECK(tip.sizes == std::vector{LineSize{8}});
        CHECK(tip.rigs == std::vector<std::string>{"R1"});
        CHECK(balance_of(bench.workshop, "size 11 type 6 tip", {}).rigs.empty());
        CHECK(balance_of(bench.workshop, "", {}).unknown ==
              "not known before it is clear what it is");
        CHECK_FALSE(balance_of(bench.workshop, "unlisted", {}).unknown.empty());
        // Level line by its own weight: nothing is a tip of 60 gr/ft.
        CHECK_FALSE(balance_of(bench.workshop, "T-11", 60.0 * grain_per_foot).unknown.empty());
        CHECK(balance_of(bench.workshop, "T-11", {}).unknown.empty());
    }
}
