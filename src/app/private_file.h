// A new file for results, or a folder for one, readable by its owner alone whatever the umask;
// never one that is there.
#pragma once

#include <filesystem>
#include <fstream>
#include <functional>

#include "base/result.h"

namespace coilbook::app {

// A Problem (field: `option`) where a file of that name exists, or a link. Throws Error where it
// cannot be made.
[[nodiscard]] Result<std::ofstream> new_private_file(const std::filesystem::path& file,
                                                     const char* option);

// Fills such a file by `write`. Where not all of it comes onto the disk, or `write` throws, there
// is no file, and Error says whether the disk is full. A Problem as above.
[[nodiscard]] Result<void> fill_new_private_file(const std::filesystem::path& file,
                                                 const char* option,
                                                 const std::function<void(std::ostream&)>& write);

// Makes the folder that `file` is to lie in, where it is not there, readable by its owner alone.
// Gives whether it was made. Throws Error where it cannot be.
bool make_private_folder_of(const std::filesystem::path& file);

}  // namespace coilbook::app
