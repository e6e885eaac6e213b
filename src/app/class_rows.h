// A reference class as a row of `coilbook classes`.
#pragma once

#include <vector>

#include "app/table.h"
#include "catalog/reference_class.h"

namespace coilbook::app {

// A class as the engine uses it now, beside what it was before it learned from confirmed coils.
struct ClassListing {
    ReferenceClass now;
    LineDistribution built_in;  // equal to now.line where nothing was learned
    int set_aside = 0;          // confirmed coils that look wrong, so nothing was learned from them

    bool operator==(const ClassListing&) const = default;
};

// The classes of a library from which nothing was learned.
[[nodiscard]] std::vector<ClassListing> listings_of(const ReferenceLibrary& library);

// The contract's columns, in its order: logarithms of grains per foot and of g/cm3. An empty
// `degrees_of_freedom` says that the class is normal; `usual_lengths_ft` are separated by blanks.
[[nodiscard]] std::vector<Column> class_columns();
[[nodiscard]] std::vector<Cell> class_cells(const ClassListing& listing);

// What JSON has besides or otherwise: `tints` by name, `usual_lengths_ft` as a list, and `basis`.
[[nodiscard]] exchange::Json class_details(const ReferenceClass& reference);

// The same in fewer columns for a person, with medians instead of logarithms.
[[nodiscard]] std::vector<Column> class_summary_columns();
[[nodiscard]] std::vector<Cell> class_summary_cells(const ClassListing& listing);

// All classes in their order.
void write_classes(const std::vector<ClassListing>& classes, std::ostream& out, Format format,
                   std::size_t terminal_width = 0);

}  // namespace coilbook::app
