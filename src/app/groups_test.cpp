#include "app/groups.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/built_in_library.h"
#include "app/coil_changes.h"
#include "app/take_in.h"
#include "app/undo.h"
#include "store/confirmation_repository.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// Three T-11, three of 30 gr/ft and 2 g/cm3, which is no class, and one that was not measured.
// Diameters: √(4 λ / (π ρ)) of 11.1 gr/ft and 4.2 g/cm3 is 0.846 mm, of 30 and 2 it is 2.015 mm.
constexpr const char* bin =
    "code,sample_length,sample_weight,diameters\n"
    "A1,24 in,22.2 gr,0.845 mm 0.846 mm\n"
    "X1,24 in,60.0 gr,2.015 mm 2.014 mm\n"
    "A2,24 in,22.3 gr,0.846 mm 0.845 mm\n"
    "X2,24 in,60.4 gr,2.013 mm 2.018 mm\n"
    "N,,,\n"
    "X3,24 in,59.7 gr,2.016 mm 2.014 mm\n"
    "A3,24 in,22.1 gr,0.844 mm 0.846 mm\n";

std::string grouped(const std::string& readings, Format format, bool is_fine = true) {
    const TemporaryFolder folder;
    write_bytes(folder / "bin.csv", readings);
    IdentifyRequest request;
    request.readings = folder / "bin.csv";
    request.library = built_in_library();
    request.format = format;
    std::ostringstream out;
    CHECK(group_file(request, out) == is_fine);
    return out.str();
}

}  // namespace

TEST_SUITE("Groups of coils") {
    TEST_CASE("CSV has a row for each coil, in the file's order") {
        const auto csv = grouped(bin, Format::csv);
        CHECK(
            csv.starts_with("code,group,group_size,group_probability,class,class_probability,"
                            "group_grains_per_foot,group_grains_per_foot_u,group_density_g_cm3,"
                            "group_density_g_cm3_u\n"));
        std::istringstream lines(csv);
        std::string line;
        std::vector<std::string> starts;
        while (std::getline(lines, line)) starts.push_back(line.substr(0, 6));
        // The one without readings is held for a line of 7 gr/ft, the middle of all lines.
        CHECK(starts == std::vector<std::string>{"code,g", "A1,2,3", "X1,3,3", "A2,2,3", "X2,3,3",
                                                 "N,1,1,", "X3,3,3", "A3,2,3"});
        says(csv, ",T-11,");
        says(csv, ",unlisted,");
        says(csv, "\nN,1,1,1,");
        CHECK(exchange::Json::parse(grouped(bin, Format::json)).size() == 7);
    }

    TEST_CASE("a table has a row for each group, in words") {
        const auto table = grouped(bin, Format::table);
        says(table, "A1 A2 A3");
        says(table, "X1 X2 X3");
        says(table, "one line, not in your library: name it");
        says(table, "not measured enough");
        says(table, "T-11, ");
    }

    TEST_CASE("bad rows are left out, and the others are grouped") {
        const auto csv = grouped(std::string(bin) + "B,24 in,much,\n", Format::csv, false);
        CHECK(std::ranges::count(csv, '\n') == 8);
    }

    TEST_CASE("a line that no class knows becomes one, and verdicts know it") {
        auto workshop = workshop_in_memory();
        std::istringstream readings(bin);
        REQUIRE(take_in_readings(workshop, readings, "bin.csv", "take in").has_value());
        const auto before = workshop.library().size();
        REQUIRE(make_class(workshop, "green box", "matched tip", {"X1", "X2"}).has_value());
        REQUIRE(workshop.library().size() == before + 1);
        const auto made = std::ranges::find(workshop.library(), "green box", &ReferenceClass::name);
        CHECK(made->family == Family::matched_tip);
        CHECK(made->basis == "Named in this bin, from the readings of X1 and X2.");
        CHECK(workshop.library().back().name == built_in_library().back().name);
        const auto of = [&](const char* code) {
            const auto coil = coil_by_code(workshop, code).value();
            const auto confirmation = workshop.catalogue().confirmations().current_of(coil.id);
            return confirmation ? confirmation->class_name.value_or("") : "";
        };
        CHECK(of("X1") == "green box");
        CHECK(of("X2") == "green box");
        CHECK(of("X3").empty());
        const auto coil = coil_by_code(workshop, "X3").value();
        CHECK(confirm_coil(workshop, coil, "green box").has_value());

        CHECK_FALSE(make_class(workshop, "green box", "", {"X1"}).has_value());
        CHECK_FALSE(make_class(workshop, "other", "", {"nobody"}).has_value());
        CHECK_FALSE(make_class(workshop, "other", "", {"X1", "X1"}).has_value());
        CHECK_FALSE(make_class(workshop, "other", "", {"N"}).has_value());
        CHECK_FALSE(make_class(workshop, "other", "unlisted", {"X1"}).has_value());
        CHECK_FALSE(make_class(workshop, "other", "", {}).has_value());
    }

    TEST_CASE("confirming a class's own coils once more teaches it nothing new") {
        auto workshop = workshop_in_memory();
        std::istringstream readings(bin);
        REQUIRE(take_in_readings(workshop, readings, "bin.csv", "take in").has_value());
        REQUIRE(make_class(workshop, "green box", "matched tip", {"X1", "X2", "X3"}).has_value());
        const auto green_box = [&] {
            return *std::ranges::find(workshop.library(), "green box", &ReferenceClass::name);
        };
        const auto before = green_box();
        CHECK(before.line.degrees_of_freedom.has_value());  // it has learned from its coils
        for (const auto* code : {"X1", "X2", "X3"}) {
            const auto coil = coil_by_code(workshop, code).value();
            REQUIRE(confirm_coil(workshop, coil, "green box").has_value());
        }
        CHECK(green_box().line == before.line);
    }

    TEST_CASE("taking back a made class takes back what was said of its coils") {
        auto workshop = workshop_in_memory();
        std::istringstream readings(bin);
        REQUIRE(take_in_readings(workshop, readings, "bin.csv", "take in").has_value());
        const auto before = workshop.library();
        REQUIRE(make_class(workshop, "green box", "", {"X1", "X2"}).has_value());
        REQUIRE(undo(workshop).has_value());
        CHECK(workshop.library() == before);
        const auto coil = coil_by_code(workshop, "X1").value();
        CHECK_FALSE(workshop.catalogue().confirmations().current_of(coil.id).has_value());
    }
}
