#include "exchange/json.h"

#include <doctest/doctest.h>

#include <cstdint>
#include <cstring>
#include <limits>
#include <nlohmann/json.hpp>
#include <random>

using namespace coilbook::exchange;

TEST_SUITE("JSON") {
    TEST_CASE("keys keep their order and missing values are null") {
        Json row;
        row["b"] = json_from(std::optional(0.1));
        row["a"] = json_from(std::optional<double>());
        row["c"] = json_from(std::optional<std::string>("x"));
        row["d"] = json_from(std::optional<std::string>());
        CHECK(to_text(row) == R"({"b":0.1,"a":null,"c":"x","d":null})");
    }

    TEST_CASE("what JSON cannot say is null") {
        using Limits = std::numeric_limits<double>;
        CHECK(json_from(Limits::quiet_NaN()).is_null());
        CHECK(json_from(Limits::infinity()).is_null());
        CHECK(to_text(Json("\xff")) == "\"\xEF\xBF\xBD\"");
    }

    TEST_CASE("numbers read back as exactly the same number") {
        std::mt19937_64 random(9);
        for (int i = 0; i < 5000; ++i) {
            const std::uint64_t bits = random();
            double number = 0.0;
            std::memcpy(&number, &bits, sizeof number);
            const Json json = json_from(number);
            if (json.is_null()) continue;
            CHECK(Json::parse(to_text(json)).get<double>() == number);
        }
    }
}
