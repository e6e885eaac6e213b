#include "app/reading_study.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <tuple>

#include "support/near.h"
#include "support/ten_parts.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::app;

TEST_SUITE("A study of readings") {
    std::string studied(const std::string& text, Format format) {
        std::istringstream file(text);
        std::ostringstream out;
        const auto done = study_readings(file, "s.csv", out, format);
        return done ? out.str() : to_line(done.error().front());
    }

    TEST_CASE("what two people read on three coils, in words a tired guide understands") {
        std::string text = "coil,person,reading [mm]\n";
        for (const auto& [coil, mm] : {std::pair{"A", 0.80}, {"B", 0.90}, {"C", 1.00}}) {
            for (const auto& [person, off] : {std::pair{"Ann", 0.0}, {"Bob", 0.004}}) {
                for (const double again : {-0.002, 0.002}) {
                    text += std::string(coil) + "," + person + "," +
                            std::to_string(mm + off + again) + "\n";
                }
            }
        }
        const auto table = studied(text, Format::table);
        says(table, "One person who reads the same coil again is off by 0.0");
        says(table, "One person differs from another by 0.0");
        says(table, "this is good enough to tell these coils apart");
        const auto csv = studied(text, Format::csv);
        CHECK(csv.starts_with("part,standard_deviation,unit,percent_of_spread\nrepeatability,0.0"));
        // Coils 0.1 apart: √(0.1² − …) is 0.1 to a per cent.
        says(csv, "\ncoils,0.099");
        says(csv, "\ntotal,0.100");
    }

    TEST_CASE("a study with holes is refused with the hole named") {
        says(studied("coil,person,reading\nA,Ann,1 mm\nA,Ann,1 mm\nB,Bob,1 mm\nB,Bob,1 mm\n",
                     Format::csv),
             "did not read coil");
        says(studied("coil,person,reading\nA,Ann,10 C\n", Format::csv), "no temperature");
        says(studied("coil,person,reading\n", Format::csv), "no readings");
    }

    // The figures that gauge_study_test.cpp has from numpy, through the table of the window.
    TEST_CASE("the industry's study of ten parts: 7.8 % of the variance is reading") {
        std::vector<StudyReading> readings;
        for (std::size_t part = 0; part < ten_parts.size(); ++part) {
            for (std::size_t i = 0; i < 9; ++i) {
                readings.push_back({std::to_string(part + 1), std::string(1, "ABC"[i / 3]),
                                    ten_parts[part][i] * millimetre});
            }
        }
        const auto found = study_of(readings, "mm").value();
        REQUIRE(found.parts.size() == 6);
        const auto sd = [&](std::size_t at) {
            return std::get<Length>(found.parts[at].standard_deviation);
        };
        CHECK(near(sd(0), 0.1999332 * millimetre, 5e-8 * millimetre));
        CHECK(near(sd(1), 0.2268375 * millimetre, 5e-8 * millimetre));
        CHECK(near(sd(3), 0.3023715 * millimetre, 5e-8 * millimetre));
        CHECK(near(sd(5), 1.0852996 * millimetre, 5e-8 * millimetre));
        CHECK(near(found.parts[3].of_spread, 0.27861, 5e-6));
        CHECK(near(found.gauge_of_variance.value(), 0.077622, 5e-7));
        says(found.judgement, "7.8 % comes from the gauge");
        says(found.judgement, "this will do for most coils");
    }

    TEST_CASE("turns go round by round and person by person, as listed or shuffled") {
        CHECK(turns_of(2, 2, 1, {}) ==
              std::vector<Turn>{{0, 0, 1}, {0, 1, 1}, {1, 0, 1}, {1, 1, 1}});
        const auto shuffled = turns_of(3, 10, 2, 7);
        CHECK(shuffled.size() == 60);
        CHECK(shuffled != turns_of(3, 10, 2, {}));
        CHECK(shuffled == turns_of(3, 10, 2, 7));
        auto sorted = shuffled;
        std::ranges::sort(sorted, {}, [](const Turn& turn) {
            return std::tuple(turn.time, turn.person, turn.coil);
        });
        CHECK(sorted == turns_of(3, 10, 2, {}));  // everybody reads everything, round by round
        for (std::size_t at = 1; at < shuffled.size(); ++at) {
            CHECK(shuffled[at - 1].time <= shuffled[at].time);
        }
    }

    TEST_CASE("a study that was written is read back by the command line") {
        std::ostringstream out;
        std::vector<StudyRowAsWritten> rows;
        for (const char* coil : {"A", "B"}) {
            for (const char* reading : {"0.80", "0.81"}) rows.push_back({coil, "Ann", reading});
        }
        write_study(out, rows, "mm");
        CHECK(out.str().starts_with("coil,person,reading [mm]\nA,Ann,0.80\n"));
        says(studied(out.str(), Format::csv), "\nrepeatability,0.00707");
    }
}
