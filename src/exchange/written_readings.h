// Values together with the words that they were read from, as a catalogue keeps them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "catalog/readings.h"

namespace coilbook::exchange {

inline constexpr std::size_t longest_written_reading = 2000;  // bytes; a hundred diameters fit

// One value with the person's words for it, ready to be kept as a reading.
struct RawReading {
    ReadingField field;
    // As in the cell, with the unit that counted: "22.4 gr" for 22.4 under sample_weight [gr]. Each
    // diameter has its own. Decimal commas stay. Reading it again gives `value`.
    std::string as_written;
    ReadingValue value;

    bool operator==(const RawReading&) const = default;
};

// The readings in one cell: one, or for diameters one or more. A Problem as read_values gives
// it, and for a cell over the limit.
[[nodiscard]] Result<std::vector<RawReading>> written_readings(ReadingField field,
                                                               std::string_view cell,
                                                               NumberStyle style);

}  // namespace coilbook::exchange
