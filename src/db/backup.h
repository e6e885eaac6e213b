// A checked copy of a database that may be in use meanwhile.
#pragma once

#include <filesystem>

#include "db/database.h"

namespace coilbook::db {

// Copies what is committed in `database` to the file `target`, in one piece, readable by its owner
// alone and needing no other file beside it; replaces a `target` that is there only once the copy
// is whole (SQLite's quick_check) and on the disk. Other programs may go on writing.
// REQUIRES: `database` is a file, not in memory. Throws Error; `target` is then as it was.
void back_up(const Database& database, const std::filesystem::path& target);

}  // namespace coilbook::db
