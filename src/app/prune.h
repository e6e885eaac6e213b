// Deleting for good what has counted no more for long (store/pruning.h), after a backup.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>

#include "app/workshop.h"
#include "store/pruning.h"

namespace coilbook::app {

struct Pruned {
    store::Prunable what;
    std::optional<std::filesystem::path> backup;  // of before; none where nothing was deleted
};

// A year before now: what is younger may still be wanted back.
[[nodiscard]] Instant usual_pruning_moment(const Workshop& workshop);

// Deletes what has counted no more since before `before`, once `agrees` has seen what it is and
// says yes; the catalogue is copied into the folder of backups first. Where there is nothing to
// delete, nobody is asked and nothing happens. A Problem, and nothing has happened, where `agrees`
// says no and for a moment to come. Throws Error where a file cannot be read or written.
[[nodiscard]] Result<Pruned> prune(Workshop& workshop, Instant before,
                                   const std::function<bool(const store::Prunable&)>& agrees);

}  // namespace coilbook::app
