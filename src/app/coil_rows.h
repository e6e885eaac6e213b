// Coils of the catalogue as rows of `coilbook coils`.
#pragma once

#include <ostream>
#include <string_view>

#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

// All coils that are not retired, by code. Columns: code, state, confirmed_class, best_class,
// best_class_probability, grains_per_foot, grains_per_foot_u, sink_rate_in_s, sink_rate_in_s_u,
// next_reading, flags, notes. The state is that of bin.h; people get fewer and rounded columns.
void list_coils(Workshop& workshop, std::ostream& out, Format format,
                std::size_t terminal_width = 0);

// One coil. CSV: the row that `coilbook identify` gives for its readings, then state,
// confirmed_class, notes, doubt, readings ("field: as written" joined by "; ") and
// confirmation_note. JSON: the same with `classes` and `because`; `readings` is an array of {field,
// as_written, instrument, taken_at} and `said` one of {at, by, class, note}: what was said of the
// coil, oldest first. Table: all of it as a page for a person.
// A Problem if there is no such coil, or an instrument is not known; then nothing is written.
[[nodiscard]] Result<void> show_coil(Workshop& workshop, std::string_view code, std::ostream& out,
                                     Format format, std::size_t terminal_width = 0);

}  // namespace coilbook::app
