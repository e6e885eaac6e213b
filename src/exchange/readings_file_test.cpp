#include "exchange/readings_file.h"

#include <doctest/doctest.h>

#include <fstream>
#include <random>
#include <sstream>

#include "quantity/units.h"
#include "support/near.h"
#include "support/temporary_folder.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::exchange;
using namespace std::string_literals;

namespace {

struct Outcome {
    std::vector<ReadingsRow> rows;
    std::vector<std::string> problems;
    std::vector<std::string> warnings;
};

Outcome read(const std::string& text) {
    std::istringstream stream(text);
    Outcome outcome;
    auto file = ReadingsFile::over(stream, "bin.csv");
    if (!file) {
        outcome.problems.push_back(to_line(file.error()));
        return outcome;
    }
    for (const auto& warning : file->warnings()) outcome.warnings.push_back(to_line(warning));
    while (auto row = file->next()) {
        if (*row) {
            outcome.rows.push_back(std::move(**row));
        } else {
            REQUIRE_FALSE(row->error().empty());
            for (const auto& problem : row->error()) outcome.problems.push_back(to_line(problem));
        }
    }
    return outcome;
}

// The one row of a text in which nothing is wrong.
ReadingsRow only_row(const std::string& text) {
    const auto outcome = read(text);
    CAPTURE(text);
    REQUIRE(outcome.problems == std::vector<std::string>{});
    REQUIRE(outcome.rows.size() == 1);
    return outcome.rows.front();
}

// The one Problem of a text, as a line.
std::string only_problem(const std::string& text) {
    const auto outcome = read(text);
    CAPTURE(text);
    REQUIRE(outcome.problems.size() == 1);
    return outcome.problems.front();
}

}  // namespace

TEST_SUITE("Readings files") {
    TEST_CASE("a row with everything measured, units in the heads and in the cells") {
        const auto row = only_row(
            "code,sample_length [in],sample_weight [gr],diameters [mm],submerged_weight,"
            "sink_distance,sink_time [s],water_temperature [F],tint,taper,whole_length,"
            "whole_weight,floats,scale,tape,micrometer,notes\n"
            "A7,24,22.4,0.94 0.95 | 0.96,15.2 gr,2 ft,3.9,50,Dark,level,12 ft 3 in,8.7 g,no,"
            "S1,T1,M1, from the old box \n");
        CHECK(row.line == 2);
        CHECK(row.code == "A7");
        const auto& r = row.readings;
        CHECK(near(r.sample_length->value, 24.0 * inch, 1e-9 * inch));
        CHECK(near(r.sample_weight->value, 22.4 * grain, 1e-9 * grain));
        REQUIRE(r.diameters.size() == 3);
        CHECK(near(r.diameters[0].value, 0.94 * millimetre, 1e-9 * millimetre));
        CHECK(near(r.diameters[2].value, 0.96 * millimetre, 1e-9 * millimetre));
        CHECK(near(r.submerged_weight->value, 15.2 * grain, 1e-9 * grain));
        CHECK(near(r.sink_distance->value, 24.0 * inch, 1e-9 * inch));
        CHECK(near(r.sink_time->value, 3.9 * second, 1e-9 * second));
        CHECK(near(r.water_temperature->value.celsius(), 10.0, 1e-9));
        CHECK(r.tint == Tint::dark);
        CHECK(r.taper == Taper::level);
        CHECK(near(r.whole_length->value, 147.0 * inch, 1e-9 * inch));
        CHECK(near(r.whole_weight->value, 8.7 * gram, 1e-9 * gram));
        CHECK(r.floats == false);
        CHECK(r.scale == "S1");
        CHECK(r.tape == "T1");
        CHECK(r.micrometer == "M1");
        CHECK(row.notes == "from the old box");
        REQUIRE(row.raw.size() == 14);
        CHECK(row.raw[0].as_written == "24 in");
        CHECK(row.raw[1] == RawReading{ReadingField::sample_weight, "22.4 gr", *r.sample_weight});
        CHECK(row.raw[2].as_written == "0.94 mm");
        CHECK(row.raw[8].as_written == "50 F");
    }

    TEST_CASE("only the code is needed, and an empty cell is not measured") {
        const auto row = only_row("sample_weight,code,tint\n,A7,  \n");
        CHECK(row.readings == CoilReadings{});
        CHECK(row.raw.empty());
        CHECK(only_row("code\nA7\n").code == "A7");
    }

    TEST_CASE("a semicolon file has decimal commas, and a comma file has none") {
        const auto row =
            only_row("\xEF\xBB\xBF"s + "code;sample_weight [gr];diameters\r\nA7;22,4;0,94 mm\r\n");
        CHECK(near(row.readings.sample_weight->value, 22.4 * grain, 1e-9 * grain));
        CHECK(near(row.readings.diameters[0].value, 0.94 * millimetre, 1e-9 * millimetre));
        CHECK(row.raw[0].as_written == "22,4 gr");
        CHECK(
            mentions(only_problem("code;sample_weight\nA7;22.4 gr\n"), "decimal point in a file"));
        CHECK(mentions(only_problem("code,sample_weight\nA7,\"22,4 gr\"\n"),
                       "bin.csv:2: sample_weight: '22,4 gr' has a decimal comma"));
    }

    TEST_CASE("an unknown column is kept as notes and reported") {
        const auto outcome = read("code,colour,notes,,box\nA7,green,mine,spare,3\n");
        REQUIRE(outcome.rows.size() == 1);
        CHECK(outcome.rows[0].notes == "mine; colour: green; column 4: spare; box: 3");
        REQUIRE(outcome.warnings.size() == 2);
        CHECK(outcome.warnings[0] ==
              "bin.csv:1: colour: the column is unknown; it is kept as notes");
    }

    TEST_CASE("an unknown column that is near a known one is told with it") {
        const auto warned = [](const std::string& heads) {
            std::string all;
            for (const auto& each : read("code," + heads + "\n").warnings) all += each + '\n';
            return all;
        };
        const std::string kept = ": the column is unknown; it is kept as notes";
        CHECK(warned("sample_lenght") ==
              "bin.csv:1: sample_lenght" + kept + "; expected perhaps 'sample_length'\n");
        says(warned("Sample Weight [gr]"), "; expected perhaps 'sample_weight'");
        says(warned("diameter"), "; expected perhaps 'diameters'");
        says(warned("note"), "; expected perhaps 'notes'");
        // What is far from all, or near one that is there already, is told without a guess.
        CHECK(warned("date") == "bin.csv:1: date" + kept + "\n");
        CHECK(warned("codes") == "bin.csv:1: codes" + kept + "\n");
        CHECK(warned("tint,tints") == "bin.csv:1: tints" + kept + "\n");
    }

    TEST_CASE("a header without rows is a file in which nothing was measured") {
        const auto outcome = read("code,tint\n");
        CHECK(outcome.rows.empty());
        CHECK(outcome.problems.empty());
    }

    TEST_CASE("a header must have the code, and units that fit") {
        CHECK(mentions(only_problem("name,tint\nA7,dark\n"), "bin.csv:1: code: the header has no"));
        CHECK(mentions(only_problem("code\ttint\nA7\tdark\n"), "with commas or semicolons"));
        CHECK(mentions(only_problem("code,sample_weight [mm]\nA7,3\n"),
                       "bin.csv:1: sample_weight: the column's head has the unknown unit 'mm'"));
        CHECK(mentions(only_problem("code,tint [mm]\nA7,dark\n"), "tint"));
        CHECK(mentions(only_problem("code,sample_weight [gr\nA7,3\n"), "not a column head"));
        CHECK(mentions(only_problem("code,tint,tint\nA7,dark,dark\n"),
                       "tint: the column stands twice"));
        CHECK(mentions(only_problem(""), "empty"));
    }

    TEST_CASE("every wrong cell of a row is told, and the other rows are still read") {
        const auto outcome = read(
            "code,sample_weight [gr],tint,sample_length\n"
            "A1,-3,blue,24 in\n"
            "A2,22.4,dark,24 in\n"
            "A 3,0,dark,24\n");
        REQUIRE(outcome.problems.size() == 5);
        CHECK(
            mentions(outcome.problems[0], "bin.csv:2: sample_weight: '-3' is negative; expected"));
        CHECK(mentions(outcome.problems[1], "bin.csv:2: tint: 'blue' is not known here"));
        CHECK(mentions(outcome.problems[2], "bin.csv:4: code: 'A 3' cannot be a code"));
        CHECK(mentions(outcome.problems[3], "bin.csv:4: sample_weight: '0' is zero"));
        CHECK(mentions(outcome.problems[4], "bin.csv:4: sample_length: '24' has no unit"));
        REQUIRE(outcome.rows.size() == 1);
        CHECK(outcome.rows[0].code == "A2");
    }

    TEST_CASE("a code stands once in a file") {
        const auto outcome = read("code,notes\nA1,\"two\nlines\"\nA2,\nA1,\n");
        REQUIRE(outcome.problems.size() == 1);
        CHECK(mentions(outcome.problems[0],
                       "bin.csv:5: code: 'A1' stands already in the row on line 2"));
        CHECK(outcome.rows.size() == 2);
        CHECK(mentions(only_problem("code,tint\n,dark\n"), "bin.csv:2: code: the code is empty"));
    }

    TEST_CASE("a file is read again for a repeated code, past blanks, bad rows and line breaks") {
        const TemporaryFolder folder;
        const auto path = folder / "bin.csv";
        std::ofstream(path) << "tint,code,notes\ndark,A0,\"two\nlines\"\n\ndark, A1 ,\n,B\"x,\n"
                               "dark,A2,\ndark,A1,\ndark,A0,\ndark,A1,\n";
        auto file = ReadingsFile::open(path);
        REQUIRE(file.has_value());
        std::vector<std::string> problems;
        std::size_t fine = 0;
        while (const auto row = file->next()) {
            if (*row) ++fine;
            if (!*row) problems.push_back(to_line(row->error().front()));
        }
        CHECK(fine == 3);
        REQUIRE(problems.size() == 4);
        CHECK(mentions(problems[1], "bin.csv:8: code: 'A1' stands already in the row on line 5"));
        CHECK(mentions(problems[2], "bin.csv:9: code: 'A0' stands already in the row on line 2"));
        CHECK(mentions(problems[3], "bin.csv:10: code: 'A1' stands already in the row on line 5"));
    }

    TEST_CASE("figures that no line has are refused with a short message") {
        const std::string digits(1000, '7');
        for (const auto& cell : {digits + " gr", "1e999 gr"s, "nan gr"s, "inf gr"s, "22.4 grs"s,
                                 "0x10 gr"s, "22.4 gr 3"s, std::string(100000, 'x')}) {
            const auto problem = only_problem("code,sample_weight\nA7," + cell + "\n");
            CHECK(mentions(problem, "bin.csv:2: sample_weight: "));
            CHECK(problem.size() < 250);
        }
    }

    TEST_CASE("a broken row is told by its line and the next is read") {
        const auto outcome = read("code,whole_length\nA1,12' 3\"\nA2,\"12' 3\"\"\"\nA3,12 ft,7\n");
        REQUIRE(outcome.problems.size() == 2);
        CHECK(mentions(outcome.problems[0], "bin.csv:2: a quote stands where none may be"));
        CHECK(mentions(outcome.problems[1], "bin.csv:4: the row has 3 cells"));
        REQUIRE(outcome.rows.size() == 1);
        CHECK(near(outcome.rows[0].readings.whole_length->value, 147.0 * inch, 1e-9 * inch));
    }

    TEST_CASE(
        "random cells give values within their limits or Problems, and never end the program") {
        std::mt19937 random(5);
        const std::string likely = "0123456789.,-+ grmincftCFs'\"|/;\n\xC2\xB1\xE2";
        std::size_t rows = 0;
        std::size_t problems = 0;
        for (int i = 0; i < 500; ++i) {
            std::string text = "code";
            for (const auto field : all_reading_fields) text += "," + std::string(name_of(field));
            for (int row = 0; row < 5; ++row) {
                text += "\nA" + std::to_string(row);
                for (std::size_t c = 0; c < all_reading_fields.size(); ++c) {
                    text += ",";
                    for (auto n = random() % 3 ? 0 : random() % 6; n > 0; --n) {
                        text += likely[random() % likely.size()];
                    }
                }
            }
            const auto outcome = read(text);
            rows += outcome.rows.size();
            problems += outcome.problems.size();
            for (const auto& row : outcome.rows) {
                if (const auto& weight = row.readings.sample_weight) {
                    CHECK(weight->value > Mass{});
                    CHECK(weight->value <= 10.0 * kilogram);
                }
            }
        }
        CHECK(rows > 20);
        CHECK(problems > 500);
    }
}
