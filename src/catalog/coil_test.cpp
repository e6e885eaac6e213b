#include "catalog/coil.h"

#include <doctest/doctest.h>

using namespace coilbook;

TEST_SUITE("Coil codes") {
    TEST_CASE("letters of any script and digits make a code, blanks around it do not count") {
        CHECK(coil_code_from(" K8P4 ").value() == "K8P4");
        CHECK(coil_code_from("tip-3_b.2").value() == "tip-3_b.2");
        CHECK(coil_code_from("Fjällräv7").value() == "Fjällräv7");
        CHECK(coil_code_from("糸3").value() == "糸3");
    }

    TEST_CASE("a code that looks like another is refused: it has signs that cannot be seen") {
        for (const char* code :
             {"K1\u200B", "K\u00A01", "K\u00AD1", "\uFEFFK1", "K1\u202E", "K1\u2060", "K\u30001"}) {
            CAPTURE(code);
            CHECK_FALSE(coil_code_from(code).has_value());
        }
    }

    TEST_CASE("no code is empty, has a blank or is longer than forty bytes") {
        for (const char* code :
             {"", "  ", "K 1", "K,1", "12345678901234567890123456789012345678901"}) {
            CAPTURE(code);
            CHECK_FALSE(coil_code_from(code).has_value());
        }
    }
}
