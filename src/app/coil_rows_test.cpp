#include "app/coil_rows.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "app/built_in_library.h"
#include "app/coil_changes.h"
#include "app/export_table.h"
#include "app/import_table.h"
#include "store/class_repository.h"
#include "support/near.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A7 is measured, B2 is new.
Workshop two_coils() {
    auto workshop = workshop_in_memory();
    const auto measured = add_coil(workshop, "A7", "from the drift boat");
    REQUIRE(measured.has_value());
    REQUIRE(add_coil(workshop, "B2").has_value());
    for (const auto& [field, text] : {std::pair{ReadingField::sample_length, "24 in"},
                                      std::pair{ReadingField::sample_weight, "22 gr"},
                                      std::pair{ReadingField::diameters, "0.83 mm 0.84 mm"}}) {
        REQUIRE(record_reading(workshop, *measured, field, text).has_value());
    }
    return workshop;
}

void put_library(Workshop& workshop, const ReferenceLibrary& library) {
    workshop.catalogue().act(workshop.note("put a library"), [&](store::Act& act) {
        workshop.catalogue().classes().put_library(act, library);
    });
    workshop.refresh();
}

exchange::Json listed(Workshop& workshop) {
    std::ostringstream out;
    list_coils(workshop, out, Format::json);
    return exchange::Json::parse(out.str());
}

}  // namespace

TEST_SUITE("Coils as rows") {
    TEST_CASE("the list has every coil with its state, facts and next reading") {
        auto workshop = two_coils();
        const auto rows = listed(workshop);
        REQUIRE(rows.size() == 2);
        CHECK(rows.at(0).at("code") == "A7");
        CHECK(rows.at(0).at("state") == "ready to confirm");
        CHECK(rows.at(0).at("best_class") == "T-11");
        CHECK(rows.at(0).at("confirmed_class").is_null());
        CHECK(near(rows.at(0).at("grains_per_foot").get<double>(), 11.0, 0.05));
        CHECK(rows.at(0).at("notes") == "from the drift boat");
        CHECK(rows.at(1).at("state") == "unmeasured");
        CHECK(rows.at(1).at("grains_per_foot").is_null());
        CHECK(rows.at(1).at("next_reading").is_string());
    }

    TEST_CASE("a confirmed coil says so") {
        auto workshop = two_coils();
        REQUIRE(confirm_coil(workshop, *coil_by_code(workshop, "A7"), "T-11").has_value());
        CHECK(listed(workshop).at(0).at("state") == "confirmed");
        CHECK(listed(workshop).at(0).at("confirmed_class") == "T-11");
        std::ostringstream table;
        list_coils(workshop, table, Format::table);
        CHECK(table.str().find("A7    confirmed") != std::string::npos);
    }

    TEST_CASE("with only 'unlisted' in use a coil keeps its facts and has no name, nor a second") {
        auto workshop = two_coils();
        put_library(workshop, {built_in_library().back()});
        REQUIRE(workshop.library().size() == 1);
        const auto rows = listed(workshop);
        CHECK(rows.at(0).at("state") == "needs a reading");
        CHECK(rows.at(0).at("best_class") == "unlisted");
        CHECK(near(rows.at(0).at("grains_per_foot").get<double>(), 11.0, 0.05));
        std::ostringstream json;
        REQUIRE(show_coil(workshop, "A7", json, Format::json).has_value());
        const auto row = exchange::Json::parse(json.str()).at(0);
        CHECK(row.at("best_class") == "unlisted");
        CHECK(row.at("second_class").is_null());
        CHECK(row.at("second_class_probability").is_null());
        CHECK(row.at("because").dump().find("no class in use that it could be") !=
              std::string::npos);
        std::ostringstream page;
        REQUIRE(show_coil(workshop, "A7", page, Format::table).has_value());
        CHECK(page.str().find("sinks at") != std::string::npos);
        std::ostringstream table;
        list_coils(workshop, table, Format::table);
        CHECK(table.str().find("B2    unmeasured") != std::string::npos);
    }

    TEST_CASE("with no class in the library it is said what is missing, and how it comes back") {
        auto workshop = two_coils();
        put_library(workshop, {});
        std::ostringstream out;
        CHECK(error_of([&] {
                  list_coils(workshop, out, Format::table);
              }).starts_with("library: there is no class in it"));
        auto listed_only = built_in_library();
        listed_only.pop_back();
        put_library(workshop, listed_only);
        const auto said = error_of([&] { list_coils(workshop, out, Format::table); });
        CHECK(said.starts_with("library: the class 'unlisted' is missing"));
        CHECK(said.find("coilbook import classes") != std::string::npos);
        CHECK(error_of([&] { (void)show_coil(workshop, "A7", out, Format::table); }) == said);
        // The classes of another catalogue bring it back.
        auto other = workshop_in_memory();
        std::stringstream classes;
        const auto& kind = *store::kind_named("classes").value();
        export_table(other, kind, classes, Format::csv);
        std::vector<std::string> problems;
        ImportReports reports;
        reports.problem = [&](const Problem& each) { problems.push_back(to_line(each)); };
        REQUIRE(import_table(workshop, {.kind = &kind}, classes, out, reports).has_value());
        CHECK(problems.empty());
        CHECK(listed(workshop).at(0).at("best_class") == "T-11");
    }

    TEST_CASE("an empty catalogue has no rows") {
        auto workshop = workshop_in_memory();
        CHECK(listed(workshop).empty());
    }

    TEST_CASE("one coil is shown with its readings as they were written") {
        auto workshop = two_coils();
        std::ostringstream json;
        REQUIRE(show_coil(workshop, "A7", json, Format::json).has_value());
        const auto row = exchange::Json::parse(json.str()).at(0);
        CHECK(row.at("best_class") == "T-11");
        CHECK(row.at("readings").size() == 4);
        CHECK(row.at("readings").at(1).at("as_written") == "22 gr");
        CHECK(row.at("readings").at(1).at("instrument").is_null());
        CHECK(row.at("because").size() > 0);
        std::ostringstream page;
        REQUIRE(show_coil(workshop, "A7", page, Format::table).has_value());
        CHECK(page.str().starts_with("A7: ready to confirm\nfrom the drift boat\n"));
        CHECK(page.str().find("0.84 mm") != std::string::npos);
        std::ostringstream csv;
        REQUIRE(show_coil(workshop, "A7", csv, Format::csv).has_value());
        CHECK(csv.str().starts_with("code,grains_per_foot,grains_per_foot_u,diameter_mm,"));
    }

    TEST_CASE("a coil that is not there is a Problem and no output") {
        auto workshop = two_coils();
        std::ostringstream out;
        const auto shown = show_coil(workshop, "C3", out, Format::csv);
        REQUIRE_FALSE(shown.has_value());
        CHECK(to_line(shown.error()).find("'C3'") != std::string::npos);
        CHECK(out.str().empty());
    }
}
