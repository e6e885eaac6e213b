// The instruments file: what a shop knows about its own scale, tape, micrometer and clocks.
//
// Columns: code, kind, resolution, limit_of_error, repeatability, offset, offset_u; only `kind` is
// required of the header, `notes` may stand beside them, any other column is refused, since a
// misspelt figure would be lost in silence. A row without a code is the instrument used where none
// is named, in place of the default one; an empty figure is the default instrument's figure of
// that kind, since an unknown error is not zero.
#pragma once

#include <filesystem>
#include <istream>
#include <string>
#include <vector>

#include "base/result.h"
#include "metrology/instrument.h"

namespace coilbook::exchange {

// The instruments, or everything that is wrong with the file: at least one Problem, each with its
// place in its field, "FILE:LINE: COLUMN".
using InstrumentsResult = tl::expected<Instruments, std::vector<Problem>>;

// `drawer` with the instruments of the file added, or put in place of those of the same kind and
// code. Figures need units that fit the kind (a thermometer's are spans: "0.5 C" is half a kelvin),
// in the cell or in the column's head; none may be negative but the offset, and not all of a kind's
// errors zero. Codes are unique in the file. Throws Error if the disk fails.
[[nodiscard]] InstrumentsResult read_instruments(const std::filesystem::path& path,
                                                 Instruments drawer = default_instruments());
// The same from a stream; `name` stands for the file in Problems.
[[nodiscard]] InstrumentsResult read_instruments(std::istream& stream, const std::string& name,
                                                 Instruments drawer = default_instruments());

}  // namespace coilbook::exchange
