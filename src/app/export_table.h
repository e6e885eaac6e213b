// Things of one kind, written so that they can be brought in again: `coilbook export`.
#pragma once

#include <filesystem>
#include <optional>
#include <ostream>

#include "app/table.h"
#include "app/workshop.h"
#include "store/kinds.h"

namespace coilbook::app {

// Every row of the kind under the columns of store/kinds.h, exactly as it is kept, of one moment;
// who a person is only `with_names`: without, those columns are left out.
// A picture that is lost or damaged is an empty cell, and the workshop's surroundings are warned.
// CSV text that a spreadsheet would run as a formula is written safely (exchange/records.h).
// Throws Error where the catalogue cannot be read. REQUIRES: csv or json.
void export_table(Workshop& workshop, const store::Kind& kind, std::ostream& out, Format format,
                  bool with_names = false);
// The same into a new file, for its owner alone; as JSON where its name ends so. A Problem (field:
// FILE) where there is a file of that name. Throws Error where it cannot be written; then there is
// none.
[[nodiscard]] Result<void> export_to_file(Workshop& workshop, const store::Kind& kind,
                                          const std::filesystem::path& file,
                                          std::optional<Format> format = {},
                                          bool with_names = false);

}  // namespace coilbook::app
