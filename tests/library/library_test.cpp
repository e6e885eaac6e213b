// The reference library that is in the repository, held against the program's own physics.
//
// tools/make-library computed its densities with physics of its own; here src/line says whether
// the classes sink as their names and the trade say. Bands: common practice, no published source.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>
#include <utility>

#include "exchange/library_file.h"
#include "exchange/readings_file.h"
#include "line/sink_rate.h"
#include "quantity/units.h"
#include "support/near.h"
#include "support/trees.h"
#include "support/words.h"

using namespace coilbook;

namespace {

const std::string source_folder = source_tree().string();

const ReferenceLibrary& library() {
    static const auto read =
        exchange::read_library(source_folder + "/assets/reference_library.csv");
    REQUIRE_MESSAGE(read.has_value(), (read ? "" : to_line(read.error().front())));
    return *read;
}

const ReferenceClass& named(const std::string& name) {
    const auto found = std::find_if(library().begin(), library().end(),
                                    [&](const auto& each) { return each.name == name; });
    REQUIRE_MESSAGE(found != library().end(), name);
    return *found;
}

LinearDensity median_weight(const ReferenceClass& each) {
    return std::exp(each.line.ln_grains_per_foot_mean) * grain_per_foot;
}

Density median_density(const ReferenceClass& each) {
    return std::exp(each.line.ln_density_mean) * gram_per_cubic_centimetre;
}

// Of the class's median line, in still fresh water at 10 °C.
Speed median_rate(const ReferenceClass& each) {
    return sink(line_of(median_weight(each), median_density(each)), fresh_water_at_10_C()).rate;
}

// Nominal rate of a grade that sinks: type n is n in/s, intermediate 1.5.
double nominal_inches_per_second(int rank) {
    return rank == 0 ? 1.5 : rank;
}

// About the most tungsten that a coating holds together with (own estimate).
constexpr Density densest_class = 4.6 * gram_per_cubic_centimetre;

}  // namespace

TEST_SUITE("The reference library") {
    TEST_CASE("it has a class for each name of the trade, and one for everything else") {
        // 20 level lines, 8 line sizes in 9 grades, 8 leaders, a floating line, unlisted.
        CHECK(library().size() == 20 + 8 * 9 + 8 + 1 + 1);
        const auto of = [](Family family) {
            return std::count_if(library().begin(), library().end(),
                                 [=](const auto& each) { return each.family == family; });
        };
        CHECK(of(Family::level_line) == 20);
        CHECK(of(Family::matched_tip) == 72);
        CHECK(of(Family::sinking_leader) == 8);
        CHECK(of(Family::unlisted) == 1);
    }

    TEST_CASE("T-8, T-11 and T-14 sink as the trade says") {
        const struct {
            const char* name;
            double low, high;  // in/s
        } rows[] = {{"T-8", 5, 7}, {"T-11", 6, 8}, {"T-14", 7, 9}};
        for (const auto& row : rows) {
            CAPTURE(row.name);
            CHECK(median_rate(named(row.name)) > row.low * inch_per_second);
            CHECK(median_rate(named(row.name)) < row.high * inch_per_second);
        }
    }

    TEST_CASE("T-17 and T-20 sink slower than people say, and their basis tells both rates") {
        for (const auto& [name, computed] : {std::pair{"T-17", "8.0 in/s"}, {"T-20", "8.4 in/s"}}) {
            CAPTURE(name);
            CHECK(median_rate(named(name)) < 9.0 * inch_per_second);
            CHECK(mentions(named(name).basis, computed));
            CHECK(mentions(named(name).basis, "people say about 10"));
        }
    }

    TEST_CASE("a level line has its grains by name, and the grade nearest to how it sinks") {
        for (const auto& each : library()) {
            if (each.family != Family::level_line) continue;
            CAPTURE(each.name);
            REQUIRE(each.grain_class.has_value());
            REQUIRE(each.density_grade.has_value());
            CHECK(near(median_weight(each), each.grain_class->grains_per_foot * grain_per_foot,
                       1e-9 * grain_per_foot));
            const double rate = median_rate(each).in(inch_per_second);
            const auto away = [=](int rank) {
                return std::abs(rate - nominal_inches_per_second(rank));
            };
            for (int rank = 0; rank <= 8; ++rank) {
                CHECK(away(each.density_grade->rank()) <= away(rank));
            }
        }
    }

    TEST_CASE("tips of one line size weigh alike: the line's 30 ft by the published standard") {
        // Targets in grains of the trade association's published line-weight standard.
        const int targets[] = {140, 160, 185, 210, 240, 280, 330, 380};
        for (const auto& each : library()) {
            if (each.family != Family::matched_tip) continue;
            CAPTURE(each.name);
            REQUIRE(each.line_size.has_value());
            // The file has four figures: 12.67 gr/ft may be 0.005 off, which is 0.15 gr in 30 ft.
            CHECK(near(median_weight(each) * (30.0 * foot),
                       targets[each.line_size->number - 5] * grain, 0.15 * grain));
        }
    }

    TEST_CASE("tips and leaders sink at their rate, or are as dense as a coating can be") {
        for (const auto& each : library()) {
            const bool tip = each.family == Family::matched_tip;
            if (!tip && each.family != Family::sinking_leader) continue;
            CAPTURE(each.name);
            REQUIRE(each.density_grade.has_value());
            const int rank = each.density_grade->rank();
            const double promised = nominal_inches_per_second(rank) + (tip && rank > 0 ? 0.5 : 0.0);
            const double rate = median_rate(each).in(inch_per_second);
            if (near(median_density(each), densest_class, 1e-6 * gram_per_cubic_centimetre)) {
                CHECK(rate < promised);
                CHECK(mentions(each.basis, "At that limit physics gives"));
            } else {
                CHECK(median_density(each) < densest_class);
                // Densities have four figures. It tells most where the line is hardly heavier than
                // water: 0.0005 of the 0.058 g/cm3 that a type 1 is heavier is 0.9 %, and the rate
                // goes with its 0.7th power or so: 0.6 % of 1.5 in/s.
                CHECK(near(rate, promised, 0.01));
            }
        }
    }

    TEST_CASE("only the floating line floats") {
        for (const auto& each : library()) {
            CAPTURE(each.name);
            const bool floats = each.density_grade && each.density_grade->floats();
            CHECK((median_rate(each) < Speed{}) == floats);
        }
        CHECK(named("floating line").density_grade == DensityGrade::floating());
    }

    TEST_CASE("the denser tip of a size is the darker") {
        const auto darkness = [](const ReferenceClass& each) {
            double mean = 0.0;
            for (std::size_t i = 0; i < each.tints.size(); ++i) {
                mean += static_cast<double>(i) * each.tints[i];
            }
            return mean;
        };
        for (const auto& a : library()) {
            for (const auto& b : library()) {
                if (a.family != Family::matched_tip || a.line_size != b.line_size) continue;
                // Nearly equal densities: their tints differ by no more than the file's rounding.
                if (b.line.ln_density_mean - a.line.ln_density_mean < 0.05) continue;
                CAPTURE(a.name);
                CAPTURE(b.name);
                CHECK(darkness(a) < darkness(b));
            }
        }
    }

    TEST_CASE("unlisted is 3 per cent of everything, broad and last") {
        const auto& unlisted = library().back();
        CHECK(unlisted.family == Family::unlisted);
        const double others =
            std::accumulate(library().begin(), library().end() - 1, 0.0,
                            [](double sum, const auto& each) { return sum + each.weight; });
        CHECK(near(unlisted.weight / others, 0.03, 0.00001));
        for (const auto& each : library()) {
            CHECK(each.line.ln_grains_per_foot_sd <= unlisted.line.ln_grains_per_foot_sd);
            CHECK(each.line.ln_density_sd <= unlisted.line.ln_density_sd);
        }
    }
}

TEST_SUITE("The demonstration bin") {
    TEST_CASE("every row is read without a problem") {
        auto file = exchange::ReadingsFile::open(source_folder + "/seed_demo/bin.csv");
        REQUIRE_MESSAGE(file.has_value(), (file ? "" : to_line(file.error())));
        CHECK(file->warnings().empty());
        int coils = 0;
        while (const auto row = file->next()) {
            CHECK_MESSAGE(row->has_value(), (*row ? "" : to_line(row->error().front())));
            ++coils;
        }
        CHECK(coils == 46);
    }
}
