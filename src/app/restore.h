// Going back to a backup, after seeing what that would change.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "app/workshop.h"
#include "store/history_repository.h"

namespace coilbook::app {

// What a catalogue holds, in numbers.
struct Holdings {
    int coils = 0;
    int readings = 0;   // current ones
    int confirmed = 0;  // coils
    std::optional<store::HistoryEntry> last_act;

    bool operator==(const Holdings&) const = default;
};

struct RestorePlan {
    std::optional<Holdings> now;  // nothing: the catalogue is missing or too damaged to be read
    Holdings then;                // what the backup holds
    std::vector<store::HistoryEntry> lost;      // done here and not in the backup, the last first
    std::vector<store::HistoryEntry> regained;  // in the backup and not here
};

// The same for people, line by line; of acts the last twenty each way.
[[nodiscard]] std::vector<std::string> lines_of(const RestorePlan& plan);

// Makes `catalogue` what the backup `from` is, history and all, once `agrees` has seen the plan and
// says yes. The backup is checked from end to end first, and stays as it is; one of an older
// format is brought up to date in a copy. What is replaced is kept beside the catalogue, and other
// programs that have it open go on with what was restored. Where there is no folder for it yet, it
// is made, for its owner alone. Gives the place of what was replaced
// (nothing where there was no catalogue). A Problem, and nothing has happened, where the backup is
// not sound or is the catalogue itself, and where `agrees` says no. Throws Error where a file
// cannot be read or written. surroundings.progress is told how far it is; broken off before
// `agrees` was asked, nothing has happened.
[[nodiscard]] Result<std::optional<std::filesystem::path>> restore(
    const std::filesystem::path& from, const std::filesystem::path& catalogue,
    const Surroundings& surroundings, const std::function<bool(const RestorePlan&)>& agrees);

}  // namespace coilbook::app
