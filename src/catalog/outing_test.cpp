#include "catalog/outing.h"

#include <doctest/doctest.h>

using namespace coilbook;

TEST_SUITE("Days of outings") {
    TEST_CASE("a day is written and read as year, month, day") {
        const auto day = day_from(" 2026-06-14 ").value();
        CHECK(day_text(day) == "2026-06-14");
        CHECK(day_text(day + std::chrono::days{17}) == "2026-07-01");
        CHECK(day_from("2028-02-29").has_value());
    }

    TEST_CASE("what is no day is refused") {
        for (const auto* text : {"", "2026-02-29", "2026-13-01", "14.6.2026", "2026-6-14", "today",
                                 "2026-06-1x", "+026-06-14", "2026/06/14"}) {
            CAPTURE(text);
            CHECK_FALSE(day_from(text).has_value());
        }
    }
}
