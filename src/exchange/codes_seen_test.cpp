#include "exchange/codes_seen.h"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using coilbook::exchange::CodesSeen;

namespace {

// A file that stands on lines 2, 3, …, and how often it was read again.
struct File {
    std::vector<std::string> codes;
    int readings = 0;

    CodesSeen::ReadAgain read_again() {
        return [this](const CodesSeen::Visit& visit) {
            ++readings;
            for (std::size_t i = 0; i < codes.size(); ++i) {
                if (!visit(codes[i], i + 2)) return;
            }
        };
    }
};

File numbered(std::size_t count) {
    File file;
    for (std::size_t i = 0; i < count; ++i) file.codes.push_back("A" + std::to_string(i));
    return file;
}

}  // namespace

TEST_SUITE("Codes seen") {
    TEST_CASE("to expect a code is not to have seen it") {
        auto file = numbered(100);
        CodesSeen codes(file.read_again());
        for (const auto& code : file.codes) codes.expect(code);
        for (std::size_t i = 0; i < file.codes.size(); ++i) {
            REQUIRE_FALSE(codes.seen_before(file.codes[i], i + 2).has_value());
        }
        codes.expect("A7");
        CHECK(codes.seen_before("A7", 200) == 9U);
    }

    TEST_CASE("of a stream, each of many codes is new once, and then stands on its first line") {
        CodesSeen codes;
        for (std::size_t i = 0; i < 20'000; ++i) {
            REQUIRE_FALSE(codes.seen_before("A" + std::to_string(i), i + 2).has_value());
        }
        for (std::size_t i = 0; i < 20'000; i += 7) {
            REQUIRE(codes.seen_before("A" + std::to_string(i), 20'002 + i) == i + 2);
        }
    }

    TEST_CASE("a file without repeated codes is hardly ever read again") {
        auto file = numbered(100'000);
        CodesSeen codes(file.read_again(), file.codes.size());
        for (std::size_t i = 0; i < file.codes.size(); ++i) {
            REQUIRE_FALSE(codes.seen_before(file.codes[i], i + 2).has_value());
        }
        CHECK(file.readings <= 1);
    }

    TEST_CASE("a repeated code stands on its first line, also where it comes a third time") {
        auto file = numbered(1000);
        file.codes[400] = file.codes[900] = file.codes[17];
        CodesSeen codes(file.read_again());
        for (std::size_t i = 0; i < file.codes.size(); ++i) {
            const auto seen = codes.seen_before(file.codes[i], i + 2);
            CAPTURE(i);
            REQUIRE(seen.has_value() == (i == 400 || i == 900));
            if (seen) REQUIRE(*seen == 19);
        }
        CHECK(file.readings == 2);
    }

    // A filter for eight codes cannot tell the codes after them from one another.
    TEST_CASE("no code is refused on suspicion alone, and more filters come when one is full") {
        auto file = numbered(3000);
        CodesSeen codes(file.read_again(), 8);
        for (std::size_t i = 0; i < file.codes.size(); ++i) {
            REQUIRE_FALSE(codes.seen_before(file.codes[i], i + 2).has_value());
        }
        REQUIRE(codes.seen_before("A0", 3002) == 2);
        REQUIRE(codes.seen_before("A2999", 3003) == 3001);
    }

    TEST_CASE("a file of nothing but repeated codes is read again a few times and no more") {
        auto file = numbered(20'000);
        for (std::size_t i = 10'000; i < 20'000; ++i) file.codes[i] = file.codes[i - 10'000];
        CodesSeen codes(file.read_again());
        for (std::size_t i = 0; i < file.codes.size(); ++i) {
            const auto seen = codes.seen_before(file.codes[i], i + 2);
            REQUIRE(seen.has_value() == (i >= 10'000));
            if (seen) REQUIRE(*seen == i - 10'000 + 2);
        }
        CHECK(file.readings == CodesSeen::most_readings + 1);
    }
}
