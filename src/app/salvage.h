// Bringing a damaged catalogue into a new one, as far as it can be read. Rows of
// `coilbook salvage`.
#pragma once

#include <filesystem>
#include <ostream>

#include "app/surroundings.h"
#include "app/table.h"
#include "base/result.h"

namespace coilbook::app {

struct SalvageOutcome {
    bool is_whole = false;     // nothing at all was lost
    int classes_put_back = 0;  // of the built-in library, in an act of its own
};

// Makes a new catalogue at `out` (store/salvage.h) and tells how it went with each kind of row.
// Classes of the built-in library that it has not, retired ones counting as there, are put back:
// with a part of the classes a coil would be held to be one of these, and surely.
// Columns: table, rows, refused, dangling, gaps: brought over; read but impossible; read but
// pointing to something lost; stretches that could not be read. People are also told which acts are
// no longer what they were. Throws Error where nothing can be read, the file is of a newer format,
// or `out` exists; there is nothing at `out` then that was not there before, nor where the program
// ends in the middle of it.
[[nodiscard]] SalvageOutcome salvage(const std::filesystem::path& damaged,
                                     const std::filesystem::path& out,
                                     const Surroundings& surroundings, std::ostream& results,
                                     Format format, std::size_t terminal_width = 0);

}  // namespace coilbook::app
