// Bringing a damaged catalogue into a new one, as far as it can be read. Rows of
// `coilbook salvage`.
#pragma once

#include <filesystem>
#include <ostream>

#include "app/surroundings.h"
#include "app/table.h"
#include "base/result.h"

namespace coilbook::app {

// Makes a new catalogue at `out` (store/salvage.h) and tells how it went with each kind of row.
// Columns: table, rows, refused, dangling, gaps: brought over; read but impossible; read but
// pointing to something lost; stretches that could not be read. People are also told which acts are
// no longer what they were. Gives whether nothing at all was lost. Throws Error where nothing can
// be read or `out` exists; there is nothing at `out` then that was not there before.
[[nodiscard]] bool salvage(const std::filesystem::path& damaged, const std::filesystem::path& out,
                           const Surroundings& surroundings, std::ostream& results, Format format,
                           std::size_t terminal_width = 0);

}  // namespace coilbook::app
