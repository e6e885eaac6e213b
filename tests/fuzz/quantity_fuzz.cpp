// Whatever somebody writes for a quantity is a value in its range, or a Problem.
#include <array>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/text.h"
#include "catalog/readings.h"
#include "fuzz/claim.h"
#include "quantity/parse.h"
#include "quantity/units.h"

using namespace coilbook;

namespace {

constexpr std::array<std::string_view, 6> units{"", "gr", "in", "mm", "s", "C"};

void read_as_everything(std::string_view text, NumberStyle style) {
    (void)parse_mass(text, style);
    (void)parse_length(text, style);
    (void)parse_duration(text, style);
    (void)parse_speed(text, style);
    (void)parse_density(text, style);
    (void)parse_linear_density(text, style);
    (void)parse_temperature(text, style);
    (void)parse_temperature_difference(text, style);
    if (const auto number = parse_number(text, style.decimal_mark)) {
        claim(std::isfinite(*number), "a number is finite");
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size < 2) return 0;
    const NumberStyle style{data[0] % 2 == 0 ? '.' : ',', units[data[1] % units.size()]};
    const std::string_view text(reinterpret_cast<const char*>(data) + 2, size - 2);
    read_as_everything(text, style);
    for (const auto field : all_reading_fields) {
        const auto values = read_values(field, text, style);
        if (!values) {
            claim(is_plain_text(to_line(values.error())) || !is_plain_text(text),
                  "a Problem with plain text is plain text");
            continue;
        }
        claim(!values->empty(), "what was read holds a value");
        CoilReadings readings;
        for (const auto& value : *values) put(readings, field, value);
        claim(has(readings, field), "what was put is there");
        if (readings.sample_weight) {
            const auto weight = readings.sample_weight->value;
            claim(weight > Mass{} && weight <= 10.0 * kilogram, "a weight is in its range");
        }
        for (const auto& diameter : readings.diameters) {
            claim(diameter.value > Length{} && diameter.value <= 25.0 * millimetre,
                  "a diameter is in its range");
        }
    }
    return 0;
}
