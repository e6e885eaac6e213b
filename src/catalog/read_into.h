// A cell of a readings file, read straight into the readings of its coil: for files of a million
// rows, where read_values() (readings.h) would ask for memory cell by cell.
#pragma once

#include <string_view>

#include "base/result.h"
#include "catalog/readings.h"

namespace coilbook {

// Puts the values in `text` into their field, as read_values() reads and put() puts them. After a
// Problem, which is read_values()'s own, some of several diameters may have been put.
[[nodiscard]] Result<void> read_into(CoilReadings& readings, ReadingField field,
                                     std::string_view text, NumberStyle style = {});

}  // namespace coilbook
