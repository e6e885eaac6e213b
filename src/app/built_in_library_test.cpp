#include "app/built_in_library.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/near.h"

using namespace coilbook;

TEST_SUITE("The built-in library") {
    TEST_CASE("it has the lines that everybody has, and one class for all others") {
        const auto library = app::built_in_library();
        const auto named = [&](const char* name) {
            return std::ranges::find(library, name, &ReferenceClass::name);
        };
        const auto t_11 = named("T-11");
        REQUIRE(t_11 != library.end());
        CHECK(t_11->family == Family::level_line);
        // T-n is n grains a foot by name: ln 11 = 2.3979.
        CHECK(near(t_11->line.ln_grains_per_foot_mean, 2.3979, 0.01));
        CHECK(std::ranges::count(library, std::optional(Family::unlisted),
                                 &ReferenceClass::family) == 1);
        CHECK(std::ranges::count(library, std::optional(Family::matched_tip),
                                 &ReferenceClass::family) > 10);
        CHECK(std::ranges::count(library, std::optional(Family::sinking_leader),
                                 &ReferenceClass::family) > 3);
    }
}
