#include "catalog/loop_mark.h"

#include <doctest/doctest.h>

#include <set>

#include "support/near.h"

using namespace coilbook;

namespace {

std::vector<LoopMark> all_marks() {
    std::vector<LoopMark> marks;
    for (int step = 0; step <= 7; ++step) {
        marks.push_back({DensityGrade::floating(), step});
        marks.push_back({DensityGrade::intermediate(), step});
        for (int type = 1; type <= 9; ++type) marks.push_back({DensityGrade::type(type), step});
    }
    return marks;
}

}  // namespace

TEST_SUITE("Loop marks") {
    TEST_CASE("a type 6 line of 11 grains a foot has two wide bands, a gap and two narrow ones") {
        const auto mark = loop_mark(DensityGrade::type(6), 11.0 * grain_per_foot);
        REQUIRE(mark.has_value());
        CHECK(in_words(*mark) == "wide wide, gap, narrow narrow");
        // 6 + 2 + 6, 10, 2 + 2 + 2: 30 mm in all.
        CHECK(near(length_of(bands_of(*mark)), 30.0 * millimetre, 1e-6 * millimetre));
    }

    TEST_CASE("the common grain classes fall into the middles of the weight steps") {
        const std::array<std::pair<double, int>, 9> steps{{{5.0, 0},
                                                           {6.4, 0},
                                                           {6.6, 1},
                                                           {8.0, 1},
                                                           {11.0, 2},
                                                           {14.0, 3},
                                                           {17.0, 4},
                                                           {20.0, 5},
                                                           {60.0, 7}}};
        for (const auto& [weight, step] : steps) {
            CAPTURE(weight);
            CHECK(weight_step(weight * grain_per_foot) == step);
        }
        CHECK(weight_range(0) == "below 6.5 gr/ft");
        CHECK(weight_range(2) == "9.5 to 12.5 gr/ft");
        CHECK(weight_range(7) == "24.5 gr/ft and more");
    }

    TEST_CASE("every mark is read back as itself, and no two look alike") {
        std::set<std::string> looks;
        for (const auto& mark : all_marks()) {
            CAPTURE(in_words(mark));
            CHECK(read_mark(bands_of(mark)) == mark);
            looks.insert(in_words(mark));
        }
        CHECK(looks.size() == all_marks().size());
    }

    TEST_CASE("nobody counts beyond three bands of a kind, and all marks fit beside a loop") {
        for (const auto& mark : all_marks()) {
            const auto bands = bands_of(mark);
            int alike = 1;
            for (std::size_t at = 1; at < bands.size(); ++at) {
                const auto gap = bands[at].start - bands[at - 1].start - bands[at - 1].width;
                const bool goes_on = bands[at].band == bands[at - 1].band && gap < 3.0 * band_gap;
                alike = goes_on ? alike + 1 : 1;
                CHECK(alike <= 3);
            }
            CHECK(length_of(bands) < 60.0 * millimetre);
        }
    }

    TEST_CASE("nought is a spot: an intermediate, and a light line, still have something to see") {
        CHECK(in_words({DensityGrade::intermediate(), 0}) == "spot, gap, spot");
        CHECK(in_words({DensityGrade::floating(), 1}) == "spot spot, gap, narrow");
    }

    TEST_CASE("bands that are no mark are not read") {
        auto bands = bands_of({DensityGrade::type(4), 1});
        std::swap(bands[0].band, bands[1].band);  // narrow before wide
        CHECK_FALSE(read_mark(bands).has_value());
        bands = bands_of({DensityGrade::type(2), 1});
        bands.pop_back();  // one group only
        CHECK_FALSE(read_mark(bands).has_value());
        CHECK_FALSE(read_mark({}).has_value());
    }

    TEST_CASE("what is not known is not marked by halves") {
        CHECK_FALSE(loop_mark(DensityGrade::type(6), std::nullopt).has_value());
        CHECK_FALSE(loop_mark(std::nullopt, 11.0 * grain_per_foot).has_value());
    }
}
