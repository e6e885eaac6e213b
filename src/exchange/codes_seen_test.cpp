#include "exchange/codes_seen.h"

#include <doctest/doctest.h>

#include <string>

using coilbook::exchange::CodesSeen;

TEST_SUITE("Codes seen") {
    TEST_CASE("each of many codes is new once, and then stands on its first line") {
        CodesSeen codes;
        for (std::size_t i = 0; i < 20'000; ++i) {
            REQUIRE_FALSE(codes.seen_before("A" + std::to_string(i), i + 2).has_value());
        }
        for (std::size_t i = 0; i < 20'000; i += 7) {
            REQUIRE(codes.seen_before("A" + std::to_string(i), 1) == i + 2);
        }
    }
}
