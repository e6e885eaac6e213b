// Where copies of a catalogue lie, what they are called, and which of them are kept.
//
// They lie in the folder `backups` beside the catalogue: a.2026-11-25.coilbook is a.coilbook as it
// was before the first change of that day (UTC), a.v1.coilbook as it was before it was brought up
// from format 1. Only files whose names are exactly of the dated form are ever thinned out.
#pragma once

#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

namespace coilbook::store {

// The folder of backups of the catalogue `file`; makes nothing.
[[nodiscard]] std::filesystem::path backup_folder_of(const std::filesystem::path& file);
// The same, made if need be, for its owner alone. Throws Error where it cannot be made.
std::filesystem::path make_backup_folder(const std::filesystem::path& file);

// The place of the copy of `file` that is told apart by `mark`: "a.MARK.coilbook".
[[nodiscard]] std::filesystem::path backup_of(const std::filesystem::path& file,
                                              const std::string& mark);

using Day = std::chrono::sys_days;
[[nodiscard]] std::string day_text(Day day);  // "2026-11-25"

// The days of which there are daily copies of `file`, the last first. Empty where there is no
// folder.
[[nodiscard]] std::vector<Day> backup_days(const std::filesystem::path& file);

// Of `days`, which are sorted, the last first, those whose copies are not kept. Kept are the last 7
// days that have one, the last one of each of the last 4 weeks that have one (from Monday, as in
// ISO 8601), and the last one of each of the last 12 months that have one. These numbers are our
// choice: common practice, no published source.
[[nodiscard]] std::vector<Day> superfluous(const std::vector<Day>& days);

}  // namespace coilbook::store
