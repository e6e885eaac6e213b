// A new file for results, readable by its owner alone whatever the umask; never one that is there.
#pragma once

#include <filesystem>
#include <fstream>

#include "base/result.h"

namespace coilbook::app {

// A Problem (field: `option`) where a file of that name exists, or a link. Throws Error where it
// cannot be made.
[[nodiscard]] Result<std::ofstream> new_private_file(const std::filesystem::path& file,
                                                     const char* option);

}  // namespace coilbook::app
