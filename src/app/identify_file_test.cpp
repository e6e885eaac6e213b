#include "app/identify_file.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/built_in_library.h"
#include "app/verdict_rows.h"
#include "exchange/csv.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A file that is gone after its test.
class FileOnDisk {
  public:
    explicit FileOnDisk(const std::string& text, const std::string& name = "readings")
        : path_(std::filesystem::temp_directory_path() /
                ("coilbook_identify_" + std::to_string(getpid()) + "_" + name + ".csv")) {
        std::ofstream(path_, std::ios::binary) << text;
    }
    FileOnDisk(const FileOnDisk&) = delete;
    FileOnDisk& operator=(const FileOnDisk&) = delete;
    ~FileOnDisk() { std::filesystem::remove(path_); }

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

struct Outcome {
    bool all_are_fine = false;
    std::string results;
    std::vector<std::string> problems;
    std::vector<std::string> warnings;
    std::size_t coils_done = 0;
};

Outcome identified(const std::string& text, Format format, bool stops_at_first_problem = false,
                   const std::filesystem::path& instruments = {}) {
    const FileOnDisk file(text);
    IdentifyRequest request;
    request.readings = file.path();
    request.instruments_file = instruments;
    request.library = built_in_library();
    request.format = format;
    request.stops_at_first_problem = stops_at_first_problem;
    Outcome outcome;
    std::ostringstream results;
    const auto name = file.path().string();
    const auto line_without_name = [&](const Problem& problem) {
        const auto line = to_line(problem);
        return line.starts_with(name) ? line.substr(name.size()) : line;
    };
    outcome.all_are_fine = identify_file(
        request, results,
        {[&](const Problem& each) { outcome.problems.push_back(line_without_name(each)); },
         [&](const Problem& each) { outcome.warnings.push_back(line_without_name(each)); },
         [&](std::size_t done) { outcome.coils_done = done; },
         {}});
    outcome.results = results.str();
    return outcome;
}

std::vector<std::string> codes_in(const exchange::Json& rows) {
    std::vector<std::string> codes;
    for (const auto& row : rows) codes.push_back(row.at("code"));
    return codes;
}

// 24 in of T-11: 22 gr and 0.83 mm; then a coil of which nothing is known but its tint.
const std::string two_coils =
    "code,sample_length [in],sample_weight [gr],diameters [mm],tint\n"
    "A7,24,22.0,0.83 0.84 0.82,black\n"
    "B2,,,,clear\n";

}  // namespace

TEST_SUITE("Identifying a file") {
    TEST_CASE("a clear case and an empty one, in the file's order") {
        const auto outcome = identified(two_coils, Format::json);
        CHECK(outcome.all_are_fine);
        CHECK(outcome.problems.empty());
        CHECK(outcome.coils_done == 2);
        const auto rows = exchange::Json::parse(outcome.results);
        CHECK(codes_in(rows) == std::vector<std::string>{"A7", "B2"});
        const auto& known = rows.at(0);
        CHECK(near(known.at("grains_per_foot").get<double>(), 11.0, 0.05));
        CHECK(near(known.at("diameter_mm").get<double>(), 0.83, 0.01));
        CHECK(known.at("best_class") == "T-11");
        CHECK(known.at("grain_class") == "T-11");
        // Of the second coil nothing was measured: no facts, wide probabilities, an advice.
        const auto& unknown = rows.at(1);
        CHECK(unknown.at("grains_per_foot").is_null());
        CHECK(unknown.at("sink_rate_in_s").is_null());
        CHECK(unknown.at("best_class_probability").get<double>() < 0.5);
        CHECK(unknown.at("next_reading").is_string());
        for (const auto& row : rows) {
            double sum = 0.0;
            for (const auto& each : row.at("classes")) sum += each.at("probability").get<double>();
            CHECK(near(sum, 1.0, 1e-9));
        }
    }

    TEST_CASE("CSV and JSON say the same") {
        std::istringstream csv(identified(two_coils, Format::csv).results);
        const auto rows = exchange::Json::parse(identified(two_coils, Format::json).results);
        auto reader = exchange::CsvReader::over(csv, "results");
        REQUIRE(reader.has_value());
        std::size_t count = 0;
        while (const auto row = reader->next()) {
            REQUIRE(row->has_value());
            for (std::size_t i = 0; i < (*row)->cells.size(); ++i) {
                const auto& cell = (*row)->cells[i];
                const auto& value = rows.at(count).at(reader->header().cells[i]);
                if (value.is_null()) {
                    CHECK(cell.empty());
                } else if (value.is_string()) {
                    CHECK(cell == value.get<std::string>());
                } else {
                    CHECK(std::stod(cell) == value.get<double>());
                }
            }
            ++count;
        }
        CHECK(count == 2);
    }

    TEST_CASE("a bad row is told and the others are still done") {
        const std::string text =
            "code,sample_weight [gr],tint,scale,box\n"
            "A1,-3,blue,,\n"
            "A2,22.4,dark,,\n"
            "A3,22.4,dark,borrowed,\n"
            "A4,22.4,dark,,7\n";
        const auto outcome = identified(text, Format::json);
        CHECK_FALSE(outcome.all_are_fine);
        CHECK(codes_in(exchange::Json::parse(outcome.results)) ==
              std::vector<std::string>{"A2", "A4"});
        REQUIRE(outcome.problems.size() == 3);
        CHECK(outcome.problems[0].starts_with(":2: sample_weight: '-3' is negative"));
        CHECK(outcome.problems[1].starts_with(":2: tint: 'blue'"));
        CHECK(outcome.problems[2].starts_with(":4: scale: 'borrowed' is not a known scale"));
        CHECK(outcome.warnings ==
              std::vector<std::string>{":1: box: the column is unknown; it is kept as notes"});
    }

    TEST_CASE("a strict person gets no more after the first bad row, but whole JSON") {
        const auto outcome =
            identified("code,tint\nA1,dark\nA2,blue\nA3,dark\n", Format::json, true);
        CHECK_FALSE(outcome.all_are_fine);
        CHECK(codes_in(exchange::Json::parse(outcome.results)) == std::vector<std::string>{"A1"});
        CHECK(outcome.problems.size() == 1);
    }

    TEST_CASE("a header alone gives no rows, and is fine") {
        CHECK(identified("code,tint\n", Format::json).results == "[]\n");
        CHECK(identified("code,tint\n", Format::csv).all_are_fine);
    }

    TEST_CASE("a file that cannot be read gives no output") {
        const auto outcome = identified("", Format::csv);
        CHECK_FALSE(outcome.all_are_fine);
        CHECK(outcome.results.empty());
        CHECK(outcome.problems.size() == 1);
        IdentifyRequest request;
        request.readings = "/nowhere/bin.csv";
        std::ostringstream results;
        CHECK_FALSE(identify_file(request, results));
    }

    TEST_CASE("the shop's own scale counts where the file names it") {
        // The same piece on a scale that reads 1 gr too high, and on a coarse one.
        const FileOnDisk shop(
            "code,kind,resolution,offset\nhigh,scale,0.1 gr,1 gr\ncoarse,scale,5 gr,\n",
            "instruments");
        const std::string text =
            "code,sample_length [in],sample_weight [gr],scale\n"
            "A1,24,22.0,\nA2,24,22.0,high\nA3,24,22.0,coarse\n";
        const auto rows =
            exchange::Json::parse(identified(text, Format::json, false, shop.path()).results);
        CHECK(near(rows.at(0).at("grains_per_foot").get<double>(), 11.0, 0.02));
        CHECK(near(rows.at(1).at("grains_per_foot").get<double>(), 10.5, 0.02));
        CHECK(rows.at(2).at("grains_per_foot_u").get<double>() >
              5.0 * rows.at(0).at("grains_per_foot_u").get<double>());
        const auto outcome = identified(text, Format::json, false, "/nowhere/shop.csv");
        CHECK_FALSE(outcome.all_are_fine);
        CHECK(outcome.results.empty());
    }

    TEST_CASE("people get a table with its uncertainties explained") {
        const auto outcome = identified(two_coils, Format::table);
        CHECK(outcome.results.find("best class") != std::string::npos);
        CHECK(outcome.results.find("one standard deviation (k = 1)") != std::string::npos);
    }
}
