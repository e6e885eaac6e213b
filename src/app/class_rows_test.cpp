#include "app/class_rows.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

ReferenceLibrary a_library() {
    ReferenceClass tip;
    tip.name = "size 8 type 3 tip";
    tip.family = Family::matched_tip;
    tip.density_grade = DensityGrade::type(3);
    tip.line_size = LineSize{8};
    tip.weight = 1.5;
    tip.line = {2.0, 0.04, 0.5, 0.13, -0.25};
    tip.tapered = 0.5;
    tip.tints = {0.25, 0.25, 0.25, 0.25, 0.0};
    tip.usual = UsualLengths{{10.0 * foot, 15.0 * foot}, 0.04};
    tip.basis = "a test";
    tip.confirmed = 2;
    ReferenceClass unlisted = tip;
    unlisted.name = "unlisted";
    unlisted.family = Family::unlisted;
    unlisted.density_grade.reset();
    unlisted.line_size.reset();
    unlisted.usual.reset();
    return {tip, unlisted};
}

std::string written(Format format) {
    std::ostringstream out;
    write_classes(listings_of(a_library()), out, format);
    return out.str();
}

}  // namespace

TEST_SUITE("Classes as rows") {
    TEST_CASE("CSV has the contract's columns and exact logarithms") {
        CHECK(written(Format::csv) ==
              "class,family,grain_class,density_grade,line_size,weight,ln_grains_per_foot_mean,"
              "ln_grains_per_foot_sd,ln_density_mean,ln_density_sd,correlation,confirmed,"
              "degrees_of_freedom,built_in_ln_grains_per_foot_mean,built_in_ln_grains_per_foot_sd,"
              "built_in_ln_density_mean,built_in_ln_density_sd,set_aside,tapered,tint_clear,"
              "tint_pale,tint_brown,tint_dark,tint_black,usual_lengths_ft,usual_length_sd\n"
              "size 8 type 3 tip,matched tip,,type 3,8,1.5,2,0.04,0.5,0.13,-0.25,2,,2,0.04,0.5,"
              "0.13,0,0.5,0.25,0.25,0.25,0.25,0,10 15,0.04\n"
              "unlisted,unlisted,,,,1.5,2,0.04,0.5,0.13,-0.25,2,,2,0.04,0.5,0.13,0,0.5,0.25,0.25,"
              "0.25,0.25,0,,\n");
    }

    TEST_CASE("a class that has learned shows what it was before") {
        ClassListing listing{a_library().front(), {2.1, 0.05, 0.6, 0.15, 0.0}, 1};
        listing.now.line.degrees_of_freedom = 14.0;
        std::ostringstream out;
        write_classes({listing}, out, Format::csv);
        CHECK(out.str().find("2,0.04,0.5,0.13,-0.25,2,14,2.1,0.05,0.6,0.15,1,") !=
              std::string::npos);
    }

    TEST_CASE("JSON has all that the engine knows of a class") {
        const auto json = exchange::Json::parse(written(Format::json));
        CHECK(json.size() == 2);
        CHECK(json.at(0).at("class") == "size 8 type 3 tip");
        CHECK(json.at(0).at("confirmed") == 2);
        CHECK(json.at(0).at("tints").at("brown") == 0.25);
        CHECK(near(json.at(0).at("usual_lengths_ft").at(1).get<double>(), 15.0, 1e-9));
        CHECK(json.at(0).at("usual_length_sd") == 0.04);
        CHECK(json.at(0).at("basis") == "a test");
        CHECK(json.at(1).at("usual_lengths_ft").is_null());
        CHECK(json.at(1).at("density_grade").is_null());
    }

    TEST_CASE("people get medians with their spread") {
        // e² = 7.389, e^0.5 = 1.649.
        const auto table = written(Format::table);
        CHECK(table.find("7.39 ± 4.0 %") != std::string::npos);
        CHECK(table.find("1.65 ± 13 %") != std::string::npos);
        CHECK(table.find("k = 1") != std::string::npos);
    }
}
