#include "db/base64.h"

#include <doctest/doctest.h>

#include <random>
#include <utility>

using namespace coilbook;

TEST_SUITE("Bytes as text") {
    TEST_CASE("the test vectors of the standard") {
        // RFC 4648, section 10.
        const std::pair<const char*, const char*> vectors[] = {
            {"", ""},         {"f", "Zg=="},         {"fo", "Zm8="},       {"foo", "Zm9v"},
            {"foob", "Zm9vYg=="}, {"fooba", "Zm9vYmE="}, {"foobar", "Zm9vYmFy"}};
        for (const auto& [bytes, text] : vectors) {
            CHECK(db::base64_of(bytes) == text);
            CHECK(db::bytes_from_base64(text) == bytes);
        }
    }

    TEST_CASE("any bytes come back, and what is no such text gives nothing") {
        std::mt19937 random(1);
        for (int turn = 0; turn < 200; ++turn) {
            std::string bytes(random() % 300, '\0');
            for (char& each : bytes) each = static_cast<char>(random());
            CHECK(db::bytes_from_base64(db::base64_of(bytes)) == bytes);
        }
        for (const char* text : {"Zg", "Zg=", "Z", "Zm9v Yg==", "Zm9v!", "===="}) {
            CHECK_FALSE(db::bytes_from_base64(text));
        }
    }
}
