// A checked copy of a database that may be in use meanwhile.
#pragma once

#include <filesystem>
#include <functional>

#include "db/database.h"

namespace coilbook::db {

// Throws Error, naming the file and what it is instead, unless `file` begins as a whole one of this
// kind does, of a format that this program knows: so before anything is made of a stranger's file.
void check_given(const std::filesystem::path& file, const FileKind& kind);

// Copies what is committed in `database` to the file `target`, in one piece, readable by its owner
// alone and needing no other file beside it; replaces a `target` that is there only once the copy
// is whole (SQLite's quick_check) and on the disk. Other programs may go on writing.
// What a copy that was cut short left in that folder (of `target`'s ending and ".tmp", surely of
// this kind, in nobody's hands) is cleared away.
// `reached` is told how far it is, 0 to 1. REQUIRES: `database` is a file, not in memory. Throws
// Error, Damage where `database` is damaged, and BrokenOff (breakable.h); `target` is then as it
// was, and nothing of the copy is left.
void back_up(const Database& database, const std::filesystem::path& target,
             const std::function<void(double)>& reached = {});

// Makes `target` hold what is committed in `source`, and nothing else, in one transaction: other
// programs that have `target` open see it as one change. `source` stays as it is; both are files.
// Throws Error, also after 5 s of waiting for another writer; `target` is then as it was.
void put_in_place(Database& target, const Database& source);

}  // namespace coilbook::db
