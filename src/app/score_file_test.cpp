#include "app/score_file.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/built_in_library.h"
#include "exchange/json.h"
#include "support/near.h"
#include "support/temporary_folder.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

struct Outcome {
    bool all_are_fine = false;
    exchange::Json rows;
    std::vector<std::string> problems;

    // The value of a measure; null where there is no such row.
    [[nodiscard]] exchange::Json value(const std::string& of, const std::string& measure,
                                       const std::string& column = "value") const {
        for (const auto& row : rows) {
            if (row.at("of") == of && row.at("measure") == measure) return row.at(column);
        }
        return nullptr;
    }
};

Outcome scores_of(const std::string& readings, const std::string& truth) {
    const TemporaryFolder folder;
    write_bytes(folder / "readings.csv", readings);
    write_bytes(folder / "truth.csv", truth);
    ScoreRequest request;
    request.readings = folder / "readings.csv";
    request.truth = folder / "truth.csv";
    request.library = built_in_library();
    request.format = Format::json;
    Outcome outcome;
    std::ostringstream results;
    const auto place = folder.path().string() + "/";
    ScoreReports reports;
    reports.problem = [&](const Problem& problem) {
        const auto line = to_line(problem);
        outcome.problems.push_back(line.starts_with(place) ? line.substr(place.size()) : line);
    };
    outcome.all_are_fine = score_file(request, results, reports);
    if (!results.str().empty()) outcome.rows = exchange::Json::parse(results.str());
    return outcome;
}

// A clear T-11 (24 in of 22 gr, 0.83 mm), a clear T-8, and a coil that nothing in the library is:
// 24 in of 36 gr at 1.5 mm is 18 gr/ft at 2.2 g/cm3.
const std::string three_coils =
    "code,sample_length [in],sample_weight [gr],diameters [mm],tint,taper\n"
    "A1,24,22.0,0.83,black,level\n"
    "A2,24,16.0,0.71,black,level\n"
    "A3,24,36.0,1.50,clear,level\n";

}  // namespace

TEST_SUITE("Scoring a file") {
    TEST_CASE("right answers are counted, and a wrong truth shows") {
        const auto right = scores_of(three_coils,
                                     "code,class,grain_class,family\n"
                                     "A1,T-11,T-11,level line\nA2,T-8,T-8,level line\n"
                                     "A3,unlisted,,unlisted\n");
        CHECK(right.all_are_fine);
        CHECK(right.problems.empty());
        CHECK(right.value("grain_class", "accuracy") == 1.0);
        CHECK(right.value("class", "accuracy") == 1.0);
        CHECK(right.value("grain_class", "accuracy", "coils") == 3);
        CHECK(right.value("unlisted", "listed_called_unlisted") == 0.0);
        // What the truth does not tell is not scored.
        CHECK(right.value("density_grade", "accuracy").is_null());
        CHECK(right.value("grains_per_foot", "coverage_50").is_null());
        CHECK(right.value("class", "share_of_optimal").is_null());

        const auto wrong = scores_of(three_coils,
                                     "code,class,grain_class,family\n"
                                     "A1,T-8,T-8,level line\nA2,T-8,T-8,level line\n"
                                     "A3,T-17,T-17,level line\n");
        CHECK(near(wrong.value("class", "accuracy"), 1.0 / 3.0, 1e-12));
        CHECK(near(wrong.value("family", "accuracy"), 2.0 / 3.0, 1e-12));
        CHECK(near(wrong.value("unlisted", "listed_called_unlisted"), 1.0 / 3.0, 1e-12));
        CHECK(wrong.value("class", "log_loss") > 1.0);
    }

    TEST_CASE("an empty cell is the answer 'none', as a level line has no size") {
        const auto outcome =
            scores_of(three_coils, "code,class,line_size\nA1,T-11,\nA2,T-8,\nA3,unlisted,\n");
        CHECK(outcome.value("line_size", "accuracy") == 1.0);
    }

    TEST_CASE("an interval holds what was measured and not what was not") {
        const std::string head = "code,class,grains_per_foot,diameter_mm\n";
        const auto inside = scores_of(
            three_coils, head + "A1,T-11,11.0,0.83\nA2,T-8,8.0,0.71\nA3,unlisted,18.0,1.50\n");
        CHECK(inside.value("grains_per_foot", "coverage_50") == 1.0);
        CHECK(inside.value("diameter_mm", "coverage_95") == 1.0);
        CHECK(inside.value("density_g_cm3", "coverage_95").is_null());
        const auto outside = scores_of(
            three_coils, head + "A1,T-11,11.5,0.83\nA2,T-8,8.0,0.80\nA3,unlisted,18.0,1.50\n");
        CHECK(near(outside.value("grains_per_foot", "coverage_95"), 2.0 / 3.0, 1e-12));
        CHECK(near(outside.value("diameter_mm", "coverage_95"), 2.0 / 3.0, 1e-12));
    }

    TEST_CASE("we are held against the best judge where his answers are given") {
        const auto outcome = scores_of(
            three_coils,
            "code,class,family,best_class,best_family,best_class_probability\n"
            "A1,T-11,level line,T-11,level line,0.9\nA2,T-8,level line,T-11,level line,0.6\n"
            "A3,unlisted,unlisted,unlisted,unlisted,0.99\n");
        CHECK(near(outcome.value("class", "accuracy_of_optimal"), 2.0 / 3.0, 1e-12));
        CHECK(near(outcome.value("class", "share_of_optimal"), 1.5, 1e-12));
        CHECK(near(outcome.value("class", "accuracy_promised_by_optimal"), 0.83, 1e-12));
        // 0.9 and 0.99 are right, in two bins; 0.6 is wrong: (0.1 + 0.01 + 0.6) / 3.
        CHECK(near(outcome.value("class", "calibration_error_of_optimal"), 0.71 / 3.0, 1e-12));
        CHECK(outcome.value("family", "share_of_optimal") == 1.0);
    }

    TEST_CASE("foreign coils are caught, at a price") {
        const auto outcome = scores_of(
            three_coils, "code,class,clearly_foreign\nA1,T-11,no\nA2,T-8,no\nA3,unlisted,yes\n");
        CHECK(outcome.value("unlisted", "clearly_foreign_caught") == 1.0);
        CHECK(outcome.value("unlisted", "threshold_at_95_percent_caught") > 0.5);
        CHECK(outcome.value("unlisted", "listed_called_unlisted_at_threshold") == 0.0);
    }

    TEST_CASE("coils without readings, truth or a known class are told and counted as refused") {
        const auto outcome = scores_of(three_coils + "A4,24,-3,0.8,dark,level\n",
                                       "code,class\nA1,T-11\nA2,T-1000\nA4,T-8\n");
        CHECK_FALSE(outcome.all_are_fine);
        CHECK(outcome.value("all", "refused") == 0.75);
        CHECK(outcome.value("class", "accuracy", "coils") == 1);
        REQUIRE(outcome.problems.size() == 3);
        CHECK(outcome.problems[0].starts_with("truth.csv: "));
        CHECK(outcome.problems[0].find(": class: 'T-1000' is no class of the library") !=
              std::string::npos);
        CHECK(outcome.problems[1].starts_with(
            "readings.csv:4: code: 'A3' has no row in the truth file"));
        CHECK(outcome.problems[2].starts_with("readings.csv:5: sample_weight"));
    }

    TEST_CASE("a truth that cannot be trusted gives no scores") {
        const auto twice = scores_of(three_coils, "code,class\nA1,T-11\nA1,T-8\n");
        CHECK(twice.rows.is_null());
        CHECK(twice.problems ==
              std::vector<std::string>{
                  "truth.csv:3: code: 'A1' stands twice; expected one row a coil"});
        CHECK(scores_of(three_coils, "code\nA1\n").problems.size() == 1);
        CHECK(scores_of(three_coils, "code,class,diameter_mm\nA1,T-11,thick\n").rows.is_null());
        CHECK(scores_of(three_coils, "code,class,clearly_foreign\nA1,T-11,maybe\n").rows.is_null());
    }
}
