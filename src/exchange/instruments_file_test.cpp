#include "exchange/instruments_file.h"

#include <doctest/doctest.h>

#include <sstream>

#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::exchange;

namespace {

InstrumentsResult read(const std::string& rows) {
    std::istringstream stream(
        "code,kind,resolution,limit_of_error,repeatability,offset,offset_u\n" + rows);
    return read_instruments(stream, "shop.csv");
}

// The Problems as lines, one after the other.
std::string refusal(const InstrumentsResult& result) {
    std::string lines;
    if (result) return lines;
    for (const auto& problem : result.error()) lines += to_line(problem) + "\n";
    return lines;
}

}  // namespace

TEST_SUITE("Instruments files") {
    TEST_CASE("figures are taken in their units, and empty ones are the ordinary instrument's") {
        const auto read_all = read(
            "S1,scale,0.02 g,0.05 g,,-0.1 gr,0.02 gr\n"
            "T1,tape,1/32 in,,,,\n"
            "M1,Micrometer,0.01 mm,0.004 mm,5e-3 mm,0.002 mm,0.001 mm\n"
            "W1,stopwatch,0.01 s,,0.1 s,,\n"
            "H1,thermometer,1 F,0.5 C,,-0.5 C,0.2 C\n");
        CHECK(refusal(read_all).empty());
        REQUIRE(read_all.has_value());
        const auto scale = scale_of(*read_all, "S1");
        REQUIRE(scale.has_value());
        CHECK(near(scale->resolution, 0.02 * gram, 1e-9 * gram));
        CHECK(near(scale->limit_of_error, 0.05 * gram, 1e-9 * gram));
        CHECK(scale->repeatability == Mass{});
        CHECK(near(scale->offset, -0.1 * grain, 1e-9 * grain));
        CHECK(near(scale->offset_uncertainty, 0.02 * grain, 1e-9 * grain));
        const auto tape = tape_of(*read_all, "T1");
        CHECK(near(tape->resolution, inch / 32.0, 1e-9 * inch));
        CHECK(near(tape->limit_of_error, inch / 32.0, 1e-9 * inch));
        CHECK(near(micrometer_of(*read_all, "M1")->repeatability, 5.0 * millimetre / 1000.0,
                   1e-9 * millimetre));
        CHECK(read_all->stopwatches.at("W1").repeatability == 0.1 * second);
        const auto& thermometer = read_all->thermometers.at("H1");
        CHECK(near(thermometer.resolution.kelvin(), 1.0 / 1.8, 1e-12));
        CHECK(near(thermometer.offset.kelvin(), -0.5, 1e-12));
        CHECK(thermometer.code == "H1");
        // The ordinary ones are still in the drawer.
        CHECK(scale_of(*read_all, "") == default_instruments().scales.at(""));
    }

    TEST_CASE("a row without a code is used where no instrument is named") {
        const auto instruments = read(",stopwatch,,,0.3 s,,\n,thermometer,,,,,1 C\n");
        REQUIRE(instruments.has_value());
        CHECK(instruments->stopwatches.at("").repeatability == 0.3 * second);
        CHECK(near(instruments->thermometers.at("").offset_uncertainty.kelvin(), 1.0, 1e-12));
        CHECK(
            mentions(refusal(read(",scale,,,,,\n,scale,,,,,\n")),
                     "shop.csv:3: code: a scale without code stands already in the row on line 2"));
    }

    TEST_CASE("a drawer keeps its other instruments") {
        auto drawer = default_instruments();
        drawer.scales["old"] = drawer.scales.at("");
        drawer.scales["S1"] = drawer.scales.at("");
        std::istringstream stream("code,kind,resolution\nS1,scale,5 gr\n");
        const auto instruments = read_instruments(stream, "shop.csv", drawer);
        REQUIRE(instruments.has_value());
        CHECK(scale_of(*instruments, "old") == drawer.scales.at("old"));
        CHECK(near(scale_of(*instruments, "S1")->resolution, 5.0 * grain, 1e-9 * grain));
    }

    TEST_CASE("a unit in a head counts where a cell has none, and must fit") {
        std::istringstream stream("kind,code,resolution [mm]\nmicrometer,M1,0.01\nscale,S1,0.1\n");
        const auto problems = refusal(read_instruments(stream, "shop.csv"));
        CHECK(problems.find("shop.csv:3: resolution: '0.1' has no unit") == 0);
    }

    TEST_CASE("a code stands once, whatever the kind") {
        CHECK(mentions(refusal(read("S1,scale,,,,,\nS1,tape,,,,,\n")),
                       "shop.csv:3: code: 'S1' stands already in the row on line 2"));
    }

    TEST_CASE("everything wrong is told at once, by line and column") {
        const auto problems =
            refusal(read("S1,scale,-0.1 gr,0.1 mm,1 gr +- 1 gr,,\n"
                         "B 1,scale,,,,,\n"
                         "B2,balance,,,,,\n"
                         "W1,stopwatch,0.2,,,,-1 s\n"
                         "H1,thermometer,-1 C,,,,\n"));
        CHECK(mentions(problems, "shop.csv:2: resolution: '-0.1 gr' is negative"));
        CHECK(mentions(problems, "shop.csv:2: limit_of_error: '0.1 mm' has the unknown unit"));
        CHECK(mentions(problems, "shop.csv:2: repeatability: '1 gr +- 1 gr' has an uncertainty"));
        CHECK(mentions(problems, "shop.csv:3: code: 'B 1' cannot be a code"));
        CHECK(mentions(problems, "shop.csv:4: kind: 'balance' is not a kind of instrument"));
        CHECK(mentions(problems, "shop.csv:5: resolution: '0.2' has no unit"));
        CHECK(mentions(problems, "shop.csv:5: offset_u: '-1 s' is negative"));
        CHECK(mentions(problems, "shop.csv:6: resolution: '-1 C' is negative"));
    }

    TEST_CASE("no instrument is without any error") {
        CHECK(mentions(refusal(read("S1,scale,0 gr,0 gr,0 gr,0 gr,0 gr\n")), "never right"));
    }

    TEST_CASE("a misspelt column is refused, since its figures would be lost") {
        std::istringstream stream("code,kind,limit_of_eror\nS1,scale,0.1 gr\n");
        CHECK(mentions(refusal(read_instruments(stream, "shop.csv")),
                       "shop.csv:1: limit_of_eror: the column is unknown"));
        std::istringstream no_kind("code,notes\nS1,mine\n");
        CHECK(mentions(refusal(read_instruments(no_kind, "shop.csv")), "kind: the header has no"));
    }

    TEST_CASE("a missing file is a Problem") {
        CHECK(mentions(refusal(read_instruments("/nowhere/shop.csv")), "there is no such file"));
    }
}
