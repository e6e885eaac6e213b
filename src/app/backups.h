// Copies of the catalogue: one a day by itself, and one whenever a person wants it.
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/workshop.h"

namespace coilbook::app {

// Makes the catalogue copy itself before the first act of each day (UTC) into the folder `backups`
// beside it, and keep of these copies 7 days, 4 weeks and 12 months (store/backup_places.h). A copy
// that cannot be made does not hold up the work: `warn` is told why, once a day.
// Before the first act of a day, and with a catalogue of up to 16 MiB before the first act at all,
// the catalogue is looked at as `coilbook check` does; beyond 256 MiB, where that takes long, only
// `coilbook check` itself looks. Where it is damaged, that act and all others throw an Error that
// says so: on damaged ground nothing new is built, and no good backup gives way to a damaged one.
// All this, and then the act itself, is told to surroundings.progress; broken off, the act is not
// done, and the next one begins with it again.
// `wait` is called before the day's first change, where it holds a function, and may throw
// BrokenOff.
void keep_daily_backups(store::Catalogue& catalogue, const Surroundings& surroundings,
                        const std::shared_ptr<std::function<void()>>& wait);
// Looks at the catalogue, up to 256 MiB, and where it is sound makes the copy of the day `today`,
// unless there is one. Throws Error where that cannot be made.
void care_for_day(const store::Catalogue& catalogue, std::chrono::sys_days today,
                  Progress& progress);

struct Backup {
    std::filesystem::path file;
    bool is_sound;  // whether `coilbook check` of the copy finds nothing wrong
};

// Copies the catalogue, whole, for its owner alone, while others may write: to `target` or, without
// one, into the folder of backups under the moment's name; then looks at the copy as
// `coilbook check` does: where the catalogue is not sound, neither is its copy, and the person
// should know. A Problem where there is a file of that name. Throws Error where it cannot be
// written. The workshop's progress is told; broken off, there is no copy.
[[nodiscard]] Result<Backup> back_up(Workshop& workshop,
                                     const std::optional<std::filesystem::path>& target = {});

// A copy in the folder of backups.
struct BackupThere {
    std::filesystem::path file;
    Instant written_at;
    std::uintmax_t bytes = 0;

    bool operator==(const BackupThere&) const = default;
};
// All that are there, the newest first; none for a catalogue in memory.
[[nodiscard]] std::vector<BackupThere> backups_there(Workshop& workshop);

// "2026-11-25 09:34 UTC".
[[nodiscard]] std::string moment_in_words(Instant at);
// The moment in a file's name: "2026-11-25-093435".
[[nodiscard]] std::string moment_in_name(Instant at);
// Copies the catalogue into the folder of backups before something that no undo takes back, under a
// free name with the moment and `what` in it: "…-before-merge". Gives the copy's place; none for a
// catalogue in memory. Throws Error where it cannot be written.
[[nodiscard]] std::optional<std::filesystem::path> back_up_before(Workshop& workshop,
                                                                  std::string_view what);

}  // namespace coilbook::app
