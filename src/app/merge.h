// Bringing together what was done on two laptops apart, from the other's catalogue or from an
// exchange file.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/workshop.h"

namespace coilbook::app {

struct MergeRequest {
    bool joins_strangers = false;  // catalogues that were made apart may become one
    bool is_dry_run = false;       // what would happen is all that is wanted
};

struct MergeReport {
    std::vector<store::ActNote> came;  // what was done elsewhere, the oldest first
    int known = 0;                     // acts that were here already
    int persons = 0;                   // clients of whom something newer was told
    int damaged_pictures = 0;          // left out; 'coilbook check' names their photographs
    int pictures_back = 0;             // that were lost or damaged here, and are whole again
    std::size_t conflicts = 0;         // to be settled now (conflict_rows.h); 0 in a dry run
    std::optional<std::filesystem::path> backup;  // of before, where something was changed
};

// What came, or would come, for people, line by line: of acts the first twenty.
[[nodiscard]] std::vector<std::string> lines_of(const MergeReport& report, bool is_dry_run);

// Takes everything into the workshop's catalogue that the catalogue `other` has and this one has
// not: all or nothing, after a backup, and looked at afterwards as `coilbook check` does. `other`
// stays as it is, whatever its format. What clients are called comes along; who was forgotten in
// one is forgotten in both. A Problem, and nothing has happened, where `other` is this catalogue or
// not sound, where the two were made apart, and where an act is not the same in both. Throws Error
// where a file cannot be read or written. The workshop's progress is told; broken off, nothing has
// happened.
[[nodiscard]] Result<MergeReport> merge(Workshop& workshop, const std::filesystem::path& other,
                                        const MergeRequest& request = {});

// Writes all acts of the catalogue into a new exchange file (act_file.h), for its owner alone, with
// what clients are called only if `with_names`. Gives how many acts. A Problem where there is a
// file of that name.
[[nodiscard]] Result<int> write_exchange(Workshop& workshop, const std::filesystem::path& file,
                                         bool with_names);
// The same as merge() from an exchange file. A Problem also for what is none, is newer, was cut off
// or changed.
[[nodiscard]] Result<MergeReport> take_in_exchange(Workshop& workshop,
                                                   const std::filesystem::path& file,
                                                   const MergeRequest& request = {});

}  // namespace coilbook::app
