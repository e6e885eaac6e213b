#include "identify/next_reading.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "identify/identify.h"
#include "support/a_coil.h"
#include "support/near.h"

using namespace coilbook;

namespace {

std::vector<ReadingAdvice> advice_on(const CoilReadings& readings) {
    return identify(readings, default_instruments(), a_library(), fresh_water_at_10_C())->advice;
}

double bits_of(std::initializer_list<NormalOutcome> outcomes) {
    return tidings_of(std::span<const NormalOutcome>(outcomes.begin(), outcomes.size())).bits;
}

bool offers(const std::vector<ReadingAdvice>& advice, ReadingField field) {
    return std::ranges::count(advice, field, &ReadingAdvice::field) > 0;
}

}  // namespace

TEST_SUITE("The next reading") {
    // Source: numerical integration with scipy 1.10.1 of the mutual information of two unit normal
    // distributions two standard deviations apart, equal weights.
    TEST_CASE("two bells two standard deviations apart: 0.485944 bits") {
        CHECK(near(bits_of({{0.5, 0.0, 1.0, 0}, {0.5, 2.0, 1.0, 1}}), 0.485944154, 1e-6));
    }

    // Source: worked by hand with Bayes' rule; prior 0.3, sensitivity 0.9, specificity 0.8.
    TEST_CASE("a test of 90 % sensitivity and 80 % specificity: 0.330452 bits") {
        const std::array ill{0.9, 0.1};
        const std::array well{0.2, 0.8};
        const TabledOutcome outcomes[] = {{0.3, ill, 0}, {0.7, well, 1}};
        const auto tidings = tidings_of(std::span<const TabledOutcome>(outcomes));
        CHECK(near(tidings.bits, 0.330452124, 1e-9));
        // A positive result turns the answer: 0.27 against 0.14.
        CHECK(near(tidings.chance_of_change, 0.41, 1e-9));
    }

    TEST_CASE("bells far apart tell all there is, equal bells tell nothing") {
        CHECK(near(bits_of({{0.5, 0.0, 1.0, 0}, {0.5, 100.0, 1.0, 1}}), 1.0, 1e-9));
        CHECK(near(bits_of({{0.5, 1.0, 1.0, 0}, {0.5, 1.0, 1.0, 1}}), 0.0, 1e-12));
    }

    TEST_CASE("a coil of which nothing is known is weighed or gauged first, not looked at") {
        const auto advice = advice_on({});
        REQUIRE_FALSE(advice.empty());
        const auto first = {ReadingField::sample_weight, ReadingField::diameters};
        CHECK(std::ranges::count(first, advice.front().field) == 1);
        CHECK_FALSE(offers(advice, ReadingField::submerged_weight));  // nothing weighed in air yet
    }

    TEST_CASE("a weighed coil of seven grains a foot is told apart by its thickness") {
        // Intermediate, type 3 and type 6 tips of one size weigh alike.
        const auto advice = advice_on(a_coil().sample("24 in", "14.0 gr"));
        REQUIRE_FALSE(advice.empty());
        const auto dense = {ReadingField::diameters, ReadingField::submerged_weight};
        CHECK(std::ranges::count(dense, advice.front().field) == 1);
        CHECK(advice.front().bits > 0.8);
    }

    TEST_CASE("a tip and a level line that fish alike are told apart by feeling the taper") {
        const auto advice =
            advice_on(a_coil().sample("10 ft", "110 gr").diameters("0.84 mm 0.84 mm 0.84 mm"));
        REQUIRE_FALSE(advice.empty());
        const auto soft = {ReadingField::taper, ReadingField::whole_length};
        CHECK(std::ranges::count(soft, advice.front().field) == 1);
    }

    TEST_CASE("no reading is offered that was taken") {
        const auto advice = advice_on(a_coil()
                                          .sample("15 ft", "165 gr")
                                          .diameters("0.84 mm 0.84 mm")
                                          .reads("taper", "level")
                                          .reads("tint", "dark")
                                          .reads("floats", "no"));
        for (const auto field : {ReadingField::diameters, ReadingField::taper, ReadingField::tint,
                                 ReadingField::floats}) {
            CHECK_FALSE(offers(advice, field));
        }
    }
}
