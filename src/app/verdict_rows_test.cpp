#include "app/verdict_rows.h"

#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>

#include "quantity/units.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

ReferenceLibrary three_classes() {
    ReferenceLibrary library(3);
    library[0].name = "T-11";
    library[1].name = "size 8 type 6";
    library[2].name = "unlisted";
    library[2].family = Family::unlisted;
    return library;
}

Verdict a_verdict() {
    Verdict verdict;
    verdict.facts.linear_density = {11.25 * grain_per_foot, 0.1875 * grain_per_foot};
    verdict.probabilities = {0.25, 0.625, 0.125};
    verdict.ranking = {1, 0, 2};
    verdict.grain_class = {std::nullopt, 0.75};
    verdict.density_grade = {DensityGrade::type(6), 0.625};
    verdict.line_size = {LineSize{8}, 0.625};
    verdict.family = {Family::matched_tip, 0.625};
    verdict.unlisted_probability = 0.125;
    verdict.advice = {{ReadingField::diameters, 1.5, 0.2, 40.0 * second, "measure the diameter"},
                      {ReadingField::tint, 0.5, 0.1, 5.0 * second, "look at it"}};
    verdict.flags = {Flag::unit_mixup, Flag::ambiguous};
    verdict.because = {"It weighs 11.25 gr/ft."};
    return verdict;
}

std::string csv_of(const Verdict& verdict) {
    std::ostringstream out;
    RowWriter writer(out, verdict_columns(), Format::csv);
    writer.add(verdict_cells("A7", verdict, three_classes()));
    writer.finish();
    return out.str();
}

}  // namespace

TEST_SUITE("Verdicts as rows") {
    TEST_CASE("a row of CSV made without cells is the same to the letter") {
        auto verdict = a_verdict();
        const auto same = [&](std::string_view code) {
            std::ostringstream out;
            RowWriter writer(out, verdict_columns(), Format::csv);
            out.str("");
            writer.add(verdict_cells(code, verdict, three_classes()));
            std::string text;
            append_verdict_csv(text, code, verdict, three_classes());
            CHECK(text == out.str());
        };
        same("A7");
        same("A,\"7");
        verdict.facts.diameter = {1e-7 * millimetre, INFINITY * millimetre};
        verdict.advice.clear();
        verdict.flags.clear();
        same(" Ä");
    }

    TEST_CASE("the columns are the contract's, in its order") {
        std::string names;
        for (const auto& column : verdict_columns()) {
            names += (names.empty() ? "" : ", ") + column.name;
        }
        CHECK(names ==
              "code, grains_per_foot, grains_per_foot_u, diameter_mm, diameter_mm_u, "
              "density_g_cm3, density_g_cm3_u, sink_rate_in_s, sink_rate_in_s_u, grain_class, "
              "grain_class_probability, density_grade, density_grade_probability, line_size, "
              "line_size_probability, family, family_probability, best_class, "
              "best_class_probability, second_class, second_class_probability, "
              "unlisted_probability, next_reading, next_reading_bits, flags");
    }

    TEST_CASE("facts not determined and facets of none are empty, their probability is not") {
        const auto csv = csv_of(a_verdict());
        CHECK(csv.substr(csv.find('\n') + 1) ==
              "A7,11.25,0.1875,,,,,,,,0.75,type 6,0.625,8,0.625,matched tip,0.625,"
              "size 8 type 6,0.625,T-11,0.25,0.125,diameters,1.5,unit? ambiguous\n");
    }

    TEST_CASE("every fact stands in its unit") {
        auto verdict = a_verdict();
        verdict.facts.diameter = {0.5 * millimetre, 0.25 * millimetre};
        verdict.facts.density = {4.0 * gram_per_cubic_centimetre, 0.5 * gram_per_cubic_centimetre};
        verdict.facts.sink_rate = {-2.0 * inch_per_second, 0.25 * inch_per_second};
        verdict.advice.clear();
        verdict.flags.clear();
        const auto csv = csv_of(verdict);
        CHECK(csv.find("\nA7,11.25,0.1875,0.5,0.25,4,0.5,-2,0.25,") != std::string::npos);
        CHECK(csv.ends_with(",0.125,,,\n"));
    }

    TEST_CASE("JSON tells every class and the reasons") {
        std::ostringstream out;
        RowWriter writer(out, verdict_columns(), Format::json);
        writer.add(verdict_cells("A7", a_verdict(), three_classes()),
                   verdict_details(a_verdict(), three_classes()));
        writer.finish();
        const auto json = exchange::Json::parse(out.str());
        const auto& row = json.at(0);
        CHECK(row.at("diameter_mm").is_null());
        CHECK(row.at("grain_class").is_null());
        CHECK(row.at("line_size") == 8);
        CHECK(row.at("classes").size() == 3);
        CHECK(row.at("classes").at(1).at("name") == "size 8 type 6");
        CHECK(row.at("classes").at(1).at("probability") == 0.625);
        CHECK(row.at("because").at(0) == "It weighs 11.25 gr/ft.");
        CHECK(row.size() == verdict_columns().size() + 2);
    }

    TEST_CASE("people get rounded figures and only rivals worth their room") {
        const auto cells = verdict_summary_cells("A7", a_verdict(), three_classes());
        CHECK(cells.size() == verdict_summary_columns().size());
        CHECK(cells[1] == Cell{"size 8 type 6"});
        CHECK(cells[2] == Cell{"63 %"});
        CHECK(cells[3] == Cell{"T-11"});
        CHECK(cells[4] == Cell{"11.25 ± 0.19"});
        CHECK(cells[5] == Cell{});
        auto sure = a_verdict();
        sure.probabilities = {0.02, 0.97, 0.01};
        CHECK(verdict_summary_cells("A7", sure, three_classes())[3] == Cell{});
    }

    TEST_CASE("a probability is never said to be all or nothing when it is not") {
        CHECK(percent(0.0) == "0 %");
        CHECK(percent(0.0001) == "< 1 %");
        CHECK(percent(0.014) == "1 %");
        CHECK(percent(0.5) == "50 %");
        CHECK(percent(0.9996) == "> 99 %");
        CHECK(percent(1.0) == "100 %");
    }
}
