#include "catalog/coil_care.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace coilbook;

TEST_SUITE("Conditions of a coil") {
    TEST_CASE("every condition is read back from its name, however it is written") {
        for (const Wear wear : all_wears) {
            CAPTURE(name_of(wear));
            CHECK(wear_from(name_of(wear)) == wear);
            CHECK(wear_from("  " + std::string(name_of(wear)) + " ") == wear);
        }
        CHECK(wear_from("Worn Loop") == Wear::worn_loop);
    }

    TEST_CASE("a word that is no condition is refused with the list of those that are") {
        const auto refused = wear_from("chewed");
        REQUIRE_FALSE(refused.has_value());
        CHECK(refused.error().field == "condition");
        CHECK(refused.error().suggestion ==
              "one of cracked coating, hinge, kink, worn loop, worn through and other");
        CHECK_FALSE(wear_from("").has_value());
    }

    TEST_CASE("pictures are png or jpeg") {
        CHECK(picture_format_from("png") == PictureFormat::png);
        CHECK(picture_format_from(name_of(PictureFormat::jpeg)) == PictureFormat::jpeg);
        CHECK_FALSE(picture_format_from("gif").has_value());
    }
}
