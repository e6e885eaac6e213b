// Tables of readings that are about instruments rather than coils: checks against standards, and
// studies of how well people read.
//
// Checks: `instrument, standard, standard_u, reading`, one row a reading, and `kind` where the code
// and the units leave open whether it is a tape or a micrometer. Studies: `coil, person, reading`.
// Quantities carry their unit in the cell or in the column's head. Nothing may be missing, and any
// other column but `notes` is refused.
#pragma once

#include <istream>
#include <string>
#include <variant>
#include <vector>

#include "base/result.h"
#include "quantity/parse.h"

namespace coilbook::exchange {

// What an instrument shows. A temperature is its difference from 0 °C.
using Figure = std::variant<Mass, Length, Duration, TemperatureDifference>;

struct CheckRow {
    std::size_t line;
    std::string kind;                                // as written, in lower case; may be empty
    std::string instrument;                          // its code; empty: the default of its kind
    Figure standard, standard_uncertainty, reading;  // all of one kind of quantity
    std::string as_written;                          // "100 gr,0.01 gr,100.2 gr"
};

struct StudyRow {
    std::size_t line;
    std::string coil, person;
    Figure reading;
};

// The rows, or everything that is wrong with the file, each with its place in its field. Throw
// Error if the disk fails.
[[nodiscard]] tl::expected<std::vector<CheckRow>, std::vector<Problem>> read_checks(
    std::istream& stream, const std::string& name);
// REQUIRES of the file besides: all readings of one kind of quantity.
[[nodiscard]] tl::expected<std::vector<StudyRow>, std::vector<Problem>> read_study(
    std::istream& stream, const std::string& name);

}  // namespace coilbook::exchange
