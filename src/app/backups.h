// Copies of the catalogue: one a day by itself, and one whenever a person wants it.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "app/workshop.h"

namespace coilbook::app {

// Makes the catalogue copy itself before the first act of each day (UTC) into the folder `backups`
// beside it, and keep of these copies 7 days, 4 weeks and 12 months (store/backup_places.h). A copy
// that cannot be made does not hold up the work: `warn` is told why, once a day.
void keep_daily_backups(store::Catalogue& catalogue,
                        std::function<void(const std::string&)> warn = {});

// Copies the catalogue, whole and checked, for its owner alone, while others may write: to `target`
// or, without one, into the folder of backups under the moment's name. Gives the copy's place.
// A Problem where there is a file of that name. Throws Error where it cannot be written.
[[nodiscard]] Result<std::filesystem::path> back_up(
    Workshop& workshop, const std::optional<std::filesystem::path>& target = {});

// The moment in a file's name: "2026-11-25-093435".
[[nodiscard]] std::string moment_in_name(Instant at);

}  // namespace coilbook::app
