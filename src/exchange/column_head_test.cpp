#include "exchange/column_head.h"

#include <doctest/doctest.h>

using namespace coilbook;
using namespace coilbook::exchange;

TEST_SUITE("Column heads") {
    TEST_CASE("a head is a name and perhaps a unit") {
        CHECK(column_head_from(" Sample_Weight [gr] ") == ColumnHead{"sample_weight", "gr"});
        CHECK(column_head_from("water_temperature[ °C ]") == ColumnHead{"water_temperature", "°C"});
        CHECK(column_head_from("code") == ColumnHead{"code", ""});
        CHECK(column_head_from("") == ColumnHead{"", ""});
        for (const char* bad :
             {"weight [gr", "weight [gr] x", "weight []", "weight [ ]", "[", "x["}) {
            CAPTURE(bad);
            CHECK_FALSE(column_head_from(bad).has_value());
        }
    }

    TEST_CASE("a column stands once, but columns without a name may be many") {
        CHECK(column_heads_from({"code", "", ""}).has_value());
        const auto twice = column_heads_from({"code", "tint", "Code [x]"});
        REQUIRE_FALSE(twice.has_value());
        CHECK(twice.error().field == "code");
        CHECK_FALSE(column_named({{"code", ""}}, "tint").has_value());
    }

    TEST_CASE("a unit fits its column or is refused") {
        CHECK(column_unit_for(ReadingField::sample_weight, "gr") == "gr");
        CHECK(column_unit_for(ReadingField::sample_weight, "GR").has_value());
        CHECK(column_unit_for(ReadingField::water_temperature, "f").has_value());
        CHECK(column_unit_for(ReadingField::water_temperature, "°c").has_value());
        CHECK(column_unit_for(ReadingField::diameters, "m") == "m");
        const auto wrong = column_unit_for(ReadingField::sample_weight, "mm");
        REQUIRE_FALSE(wrong.has_value());
        CHECK(to_line(wrong.error()) ==
              "sample_weight: the column's head has the unknown unit 'mm'; expected a weight in gr "
              "(grains) or g (grams), such as 22.4 gr");
        CHECK_FALSE(column_unit_for(ReadingField::tint, "mm").has_value());
    }
}
