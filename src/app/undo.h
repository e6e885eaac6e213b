// Taking back what was done, and doing it again: the same for every door, also after a restart.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/workshop.h"
#include "store/history_repository.h"

namespace coilbook::app {

// The act that undo() without an id would take back, with its words ("confirm coil A7 as T-11"):
// the last one that stands; nothing where there is none. The making of the catalogue itself is not
// taken back. Throws Error, as all functions here do.
[[nodiscard]] std::optional<store::HistoryEntry> next_undo(Workshop& workshop);
// The act that redo() would do again; nothing unless the last thing done was an undo or a redo.
[[nodiscard]] std::optional<store::HistoryEntry> next_redo(Workshop& workshop);

// Takes an act back, as an act of its own: the rows that it changed are as before, and the history
// has one entry more. Gives the act taken back. `id` names it by its id or by the first characters
// of it; without one it is next_undo(). A Problem, and nothing has happened, where there is no such
// act, where it was taken back already, and where a later act builds on it, which is named.
[[nodiscard]] Result<store::HistoryEntry> undo(Workshop& workshop, std::string_view id = {},
                                               std::string_view why = {});
// Does next_redo() again, as an act of its own. Gives the act. A Problem where there is none.
[[nodiscard]] Result<store::HistoryEntry> redo(Workshop& workshop, std::string_view why = {});

// What was done, the last first: all of it, or with a `code` what changed the coils of that code
// (retired ones too), their readings and what was said of them. At most `limit` entries.
[[nodiscard]] std::vector<store::HistoryEntry> history(Workshop& workshop,
                                                       const std::optional<std::string>& code = {},
                                                       int limit = 1'000'000);

}  // namespace coilbook::app
