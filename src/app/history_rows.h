// The history as rows of `coilbook history`.
#pragma once

#include <optional>
#include <ostream>
#include <string>

#include "app/table.h"
#include "app/workshop.h"

namespace coilbook::app {

// What was done, the last first: of everything, or of the coils of that code. At most `limit` rows.
// Columns: id, at, who, program, what, why, changes, state, undoes, laptop. `at` is UTC, `changes`
// counts changed fields, `state` is done, undone, undo or redo, and `undoes` is the id of the act
// that an undo took back, or of the undo that a redo took back. People get fewer columns, the
// laptop only where there were several, and a short id, which `coilbook undo` understands. JSON has
// also `changed`, an array of {thing, id, field, was, became}. A Problem for a code that no coil
// ever had.
[[nodiscard]] Result<void> write_history(Workshop& workshop, const std::optional<std::string>& code,
                                         int limit, std::ostream& out, Format format,
                                         std::size_t terminal_width = 0);

}  // namespace coilbook::app
