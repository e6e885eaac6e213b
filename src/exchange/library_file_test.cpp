#include "exchange/library_file.h"

#include <doctest/doctest.h>

#include <cmath>
#include <sstream>

#include "support/near.h"
#include "support/words.h"

using namespace coilbook;
using namespace coilbook::exchange;

namespace {

const std::string header =
    "class,family,grain_class,density_grade,line_size,weight,grains_per_foot,"
    "grains_per_foot_sd_percent,density_g_cm3,density_sd_percent,correlation,tapered,clear,pale,"
    "brown,dark,black,usual_lengths_ft,usual_length_sd_percent,basis\n";
const std::string t_11 =
    "T-11,level line,T-11,type 7,,8,11,3,4.2,8,-0.1,0.02,0.007,0.007,0.017,0.255,0.714,,,a test\n";
const std::string tip =
    "size 8 type 3,matched tip,,type 3,8,1.5,7,4,1.6,10,0,0.6,0.1,0.3,0.4,0.1,0.1,10 15,4,a test\n";
const std::string unlisted =
    "unlisted,unlisted,,,,2,6,70,1.8,50,0,0.4,0.2,0.2,0.2,0.2,0.2,,,a test\n";

LibraryResult read(const std::string& text) {
    std::istringstream stream(text);
    return read_library(stream, "library.csv");
}

std::string refusal(const std::string& text) {
    const auto library = read(text);
    std::string lines;
    if (library) return lines;
    for (const auto& problem : library.error()) lines += to_line(problem) + "\n";
    return lines;
}

// t_11 with one text in place of another.
std::string t_11_with(const std::string& was, const std::string& is) {
    auto row = t_11;
    return row.replace(row.find(was), was.size(), is);
}

}  // namespace

TEST_SUITE("The reference library's file") {
    TEST_CASE("a class is read with its logarithms, facets, tints and usual lengths") {
        const auto library = read(header + t_11 + tip + unlisted);
        CHECK(refusal(header + t_11 + tip + unlisted).empty());
        REQUIRE(library.has_value());
        REQUIRE(library->size() == 3);
        const auto& first = library->front();
        CHECK(first.name == "T-11");
        CHECK(first.family == Family::level_line);
        CHECK(first.grain_class == GrainClass{11});
        CHECK(first.density_grade == DensityGrade::type(7));
        CHECK_FALSE(first.line_size.has_value());
        CHECK(near(first.weight, 8.0, 0.0));
        // ln 11 = 2.397895, ln 4.2 = 1.435085.
        CHECK(near(first.line.ln_grains_per_foot_mean, 2.397895, 1e-6));
        CHECK(near(first.line.ln_grains_per_foot_sd, 0.03, 1e-12));
        CHECK(near(first.line.ln_density_mean, 1.435085, 1e-6));
        CHECK(near(first.line.ln_density_sd, 0.08, 1e-12));
        CHECK(near(first.line.correlation, -0.1, 0.0));
        CHECK(near(first.tapered, 0.02, 0.0));
        CHECK(near(first.tints[3], 0.255, 0.0));
        CHECK_FALSE(first.usual.has_value());
        CHECK(first.basis == "a test");
        CHECK(first.confirmed == 0);
        const auto& second = (*library)[1];
        CHECK(second.line_size == LineSize{8});
        REQUIRE(second.usual.has_value());
        REQUIRE(second.usual->lengths.size() == 2);
        CHECK(near(second.usual->lengths[1], 15.0 * foot, 1e-9 * foot));
        CHECK(near(second.usual->relative_sd, 0.04, 1e-12));
    }

    TEST_CASE("a figure that no distribution has is refused by line and column") {
        struct Row {
            const char* was;
            const char* is;
            const char* told;
        };
        for (const auto& [was, is, told] : {
                 Row{",8,11,", ",0,11,", "library.csv:2: weight: '0' is out of range"},
                 Row{",8,11,", ",8,-11,", "grains_per_foot: '-11' is out of range"},
                 Row{",8,11,", ",8,eleven,", "grains_per_foot: "},
                 Row{",11,3,", ",11,0,", "grains_per_foot_sd_percent: "},
                 Row{",4.2,", ",,", "density_g_cm3: "},
                 Row{",-0.1,", ",-1,", "correlation: '-1' is out of range"},
                 Row{",0.02,", ",1.02,", "tapered: '1.02' is out of range"},
                 Row{"0.714", "0.715", "tints do not add up"},
                 Row{"level line", "level", "family: 'level' is not known here"},
                 Row{",T-11,", ",T-x,", "grain_class: "},
                 Row{"type 7", "type x", "density_grade: "},
                 Row{"type 7,", "type 7,99", "line_size: "},
                 Row{",,,a test", ",10 x,4,a test", "usual_lengths_ft: 'x' is not a length"},
                 Row{",,,a test", ",10,,a test", "usual_length_sd_percent: "},
                 Row{"a test", "", "basis: the class has no basis"},
                 Row{"T-11,level", ",level", "class: the class has no name"},
             }) {
            CAPTURE(told);
            CHECK(mentions(refusal(header + t_11_with(was, is) + unlisted), told));
        }
    }

    TEST_CASE("names are unique and exactly one class is unlisted") {
        CHECK(mentions(refusal(header + t_11 + t_11 + unlisted),
                       "library.csv:3: class: 'T-11' stands already in the row on line 2"));
        CHECK(mentions(refusal(header + t_11), "0 classes are of the family unlisted"));
        const auto second = "un" + unlisted;
        CHECK(mentions(refusal(header + unlisted + second), "2 classes are of the family"));
    }

    TEST_CASE("every column is needed and no other is known") {
        auto short_header = header;
        short_header.erase(short_header.find(",basis"), 6);
        CHECK(
            mentions(refusal(short_header), "library.csv:1: basis: the header has no such column"));
        CHECK(mentions(refusal("colour," + header), "colour: the column is unknown"));
        CHECK(mentions(refusal(""), "the file is empty"));
        CHECK_FALSE(read_library("/nowhere.csv").has_value());
    }
}
