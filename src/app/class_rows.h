// A reference class as a row of `coilbook classes`.
#pragma once

#include <vector>

#include "app/table.h"
#include "catalog/reference_class.h"

namespace coilbook::app {

// The contract's columns, in its order: logarithms of grains per foot and of g/cm3.
[[nodiscard]] std::vector<Column> class_columns();
[[nodiscard]] std::vector<Cell> class_cells(const ReferenceClass& reference);

// What JSON has besides, all that the engine knows of a class: `tapered`, `tints`,
// `usual_lengths_ft`, `usual_length_sd` (relative) and `basis`.
[[nodiscard]] exchange::Json class_details(const ReferenceClass& reference);

// The same in fewer columns for a person, with medians instead of logarithms.
[[nodiscard]] std::vector<Column> class_summary_columns();
[[nodiscard]] std::vector<Cell> class_summary_cells(const ReferenceClass& reference);

// All classes of a library in its order.
void write_classes(const ReferenceLibrary& library, std::ostream& out, Format format,
                   std::size_t terminal_width = 0);

}  // namespace coilbook::app
