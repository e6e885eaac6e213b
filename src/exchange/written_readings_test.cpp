#include "exchange/written_readings.h"

#include <doctest/doctest.h>

#include <random>

#include "quantity/units.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::exchange;

namespace {

std::vector<std::string> words(ReadingField field, std::string_view cell, NumberStyle style = {}) {
    const auto readings = written_readings(field, cell, style);
    if (!readings) return {to_line(readings.error())};
    std::vector<std::string> texts;
    for (const auto& reading : *readings) texts.push_back(reading.as_written);
    return texts;
}

using Words = std::vector<std::string>;

}  // namespace

TEST_SUITE("Readings as written") {
    TEST_CASE("the unit that counted is written down with the number") {
        CHECK(words(ReadingField::sample_weight, "22.4", {'.', "gr"}) == Words{"22.4 gr"});
        CHECK(words(ReadingField::sample_weight, "1.45 g", {'.', "gr"}) == Words{"1.45 g"});
        CHECK(words(ReadingField::sample_weight, "22.4 +- 0.2", {'.', "gr"}) ==
              Words{"22.4 +- 0.2 gr"});
        CHECK(words(ReadingField::sample_weight, "22,4", {',', "gr"}) == Words{"22,4 gr"});
        CHECK(words(ReadingField::water_temperature, "50", {'.', "F"}) == Words{"50 F"});
        CHECK(words(ReadingField::whole_length, "12 ft 3 in") == Words{"12 ft 3 in"});
        CHECK(words(ReadingField::tint, "Brown") == Words{"Brown"});
    }

    TEST_CASE("each of several diameters has its own words") {
        CHECK(words(ReadingField::diameters, "0.94 mm 0.95 mm") == Words{"0.94 mm", "0.95 mm"});
        CHECK(words(ReadingField::diameters, "0.94 mm | 0.95mm|37 thou") ==
              Words{"0.94 mm", "0.95mm", "37 thou"});
        CHECK(words(ReadingField::diameters, "0.94 0.95", {'.', "mm"}) ==
              Words{"0.94 mm", "0.95 mm"});
        CHECK(words(ReadingField::diameters, "0.94 | 0.95 mm") == Words{"0.94 mm", "0.95 mm"});
        CHECK(words(ReadingField::diameters, "0.94 mm +- 0.01 mm 0.95 mm") ==
              Words{"0.94 mm +- 0.01 mm", "0.95 mm"});
        CHECK(words(ReadingField::diameters, "1/32 in 1/16 in") == Words{"1/32 in", "1/16 in"});
        // Without a blank between them each says its own, the doubt as well.
        CHECK(words(ReadingField::diameters, "0.8+-0.1mm0.85mm") ==
              Words{"0.8 mm +- 0.1 mm", "0.85 mm"});
    }

    TEST_CASE("what is written reads as the value it stands beside") {
        std::mt19937 random(3);
        const char* numbers[] = {"0.94", "1", "0.037", "1/32", ".9", "12"};
        const char* units[] = {"", "", " mm", "mm", " thou", " in"};
        const char* between[] = {" ", " | ", "|", "  "};
        const char* doubts[] = {"", "", " +- 0.01 mm", " ± 0.02"};
        int understood = 0;
        for (int i = 0; i < 3000; ++i) {
            std::string cell;
            for (auto n = 1 + random() % 4; n > 0; --n) {
                cell += std::string(cell.empty() ? "" : between[random() % 4]) +
                        numbers[random() % 6] + units[random() % 6] + doubts[random() % 4];
            }
            const auto readings = written_readings(ReadingField::diameters, cell, {'.', "mm"});
            if (!readings) continue;
            ++understood;
            for (const auto& reading : *readings) {
                CAPTURE(cell);
                CAPTURE(reading.as_written);
                const auto again = read_values(ReadingField::diameters, reading.as_written);
                REQUIRE(again.has_value());
                CHECK(again->size() == 1);
                CHECK(again->front() == reading.value);
            }
        }
        CHECK(understood > 1500);
    }

    TEST_CASE("what is no reading is refused as anywhere else") {
        CHECK(words(ReadingField::sample_weight, "22.4").front().find("has no unit") !=
              std::string::npos);
        CHECK(words(ReadingField::sample_weight, "-3 gr").front().find("negative") !=
              std::string::npos);
        const std::string digits(1000, '9');
        CHECK_FALSE(written_readings(ReadingField::sample_weight, digits + " gr", {}).has_value());
        CHECK(words(ReadingField::diameters, std::string(5000, '1')).front().find("too long") !=
              std::string::npos);
    }
}
