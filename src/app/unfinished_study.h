// A study of readings that is not finished: kept after each reading, so that a battery that dies in
// the middle of ninety readings takes none of them along.
//
// It lies beside the catalogue, NAME-study-unfinished.json, where the finished study will lie
// (reading_study.h), for its owner alone and written whole or not at all. It is not in the
// catalogue: what somebody is in the middle of is no fact about a coil, ninety acts would stand
// before the last change that Ctrl Z takes back, and people's names have no place in a history that
// cannot forget. Nor is it with what the window remembers of this machine: it belongs to the coils
// that it names, and goes along with their folder. One study a catalogue.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/instrument_kinds.h"
#include "app/reading_study.h"
#include "app/workshop.h"

namespace coilbook::app {

struct UnfinishedStudy {
    InstrumentKind kind = InstrumentKind::micrometer;
    std::string unit;
    std::vector<std::string> people, coils;
    std::vector<Turn> turns;
    std::vector<std::string> as_written;  // one for each of the first turns

    bool operator==(const UnfinishedStudy&) const = default;
};

// What is kept beside the catalogue; nothing where nothing is, or where the catalogue is no file. A
// Problem that names the file where it cannot be understood; it is then left as it is.
[[nodiscard]] Result<std::optional<UnfinishedStudy>> unfinished_study(Workshop& workshop);
// Keeps it, in place of an earlier one; does nothing where the catalogue is no file. On the disk
// when this returns. Throws Error where it cannot be written.
void keep_unfinished(Workshop& workshop, const UnfinishedStudy& study);
// It is finished, or thrown away. Throws Error where the file cannot be removed.
void put_away_unfinished(Workshop& workshop);

}  // namespace coilbook::app
