#include "exchange/bench_tables.h"

#include <doctest/doctest.h>

#include <sstream>

#include "quantity/units.h"
#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::exchange;

namespace {

auto checks_in(const std::string& text) {
    std::istringstream stream(text);
    return read_checks(stream, "c.csv");
}
auto study_in(const std::string& text) {
    std::istringstream stream(text);
    return read_study(stream, "s.csv");
}

}  // namespace

TEST_SUITE("Tables about instruments") {
    TEST_CASE("a check has a standard, its uncertainty and what was read") {
        const auto rows = checks_in(
            "instrument,standard,standard_u,reading [gr]\n"
            "S2,100 gr,0.01 gr,100.2\n"
            ",1 g,1 mg,15.4\n");
        REQUIRE(rows.has_value());
        REQUIRE(rows->size() == 2);
        CHECK((*rows)[0].instrument == "S2");
        CHECK(near(std::get<Mass>((*rows)[0].reading), 100.2 * grain, 1e-9 * grain));
        CHECK((*rows)[0].as_written == "100 gr,0.01 gr,100.2 gr");
        CHECK(near(std::get<Mass>((*rows)[1].standard_uncertainty), 0.001 * gram, 1e-12 * gram));
    }

    TEST_CASE("thermometers are checked against temperatures, with spans for uncertainties") {
        const auto rows = checks_in(
            "instrument,kind,standard,standard_u,reading\n"
            "T1,Thermometer,0 C,0.1 C,32.9 F\n");
        REQUIRE(rows.has_value());
        CHECK(rows->front().kind == "thermometer");
        CHECK(near(std::get<TemperatureDifference>(rows->front().reading).kelvin(), 0.5, 1e-9));
    }

    TEST_CASE("whatever is wrong is told with its place") {
        const auto rows = checks_in(
            "instrument,standard,standard_u,reading\n"
            "S2,100 gr,0.1 mm,100 gr\n"
            "S2,100 gr,-0.1 gr,100 gr\n"
            "S2,100 gr,0.1 gr,1 mm\n"
            "S2,100 gr,0.1 gr,\n"
            "S2,much,0.1 gr,100 gr\n"
            "S 2,100 gr,0.1 gr,100 gr\n");
        REQUIRE_FALSE(rows.has_value());
        REQUIRE(rows.error().size() == 6);
        CHECK(rows.error()[0].field == "c.csv:2: standard_u");
        says(rows.error()[1].sentence, "negative");
        CHECK(rows.error()[2].field == "c.csv:4: reading");
        says(rows.error()[3].sentence, "empty");
        says(rows.error()[4].suggestion, "0.85 mm");
        CHECK(rows.error()[5].field == "c.csv:7: code");
        CHECK_FALSE(checks_in("instrument,standard,reading\nS,1 gr,1 gr\n").has_value());
        CHECK_FALSE(
            checks_in("instrument,standard,standard_u,reading,extra\nS,1 gr,1 gr,1 gr,2\n"));
        CHECK_FALSE(checks_in("").has_value());
    }

    TEST_CASE("a study has readings of one kind, by coil and person") {
        const auto rows = study_in("coil,person,reading [mm]\nA1,Ann,0.85\nA1,Bob,0.86\n");
        REQUIRE(rows.has_value());
        CHECK((*rows)[1].person == "Bob");
        CHECK(near(std::get<Length>((*rows)[1].reading), 0.86 * millimetre, 1e-9 * millimetre));
        CHECK_FALSE(study_in("coil,person,reading\nA1,Ann,1 mm\nA1,Ann,1 gr\n").has_value());
        CHECK_FALSE(study_in("coil,person,reading\nA1,,1 mm\n").has_value());
    }
}
