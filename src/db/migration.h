// Bringing a database up to date by numbered steps, all together or not at all.
//
// The number of the last step applied is the file's version (SQLite's user_version). Steps that
// have been released are never edited: a change is a new step.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <string_view>

#include "db/database.h"
#include "db/transaction.h"

namespace coilbook::db {

struct Migration {
    int number = 0;         // 1, 2, 3, … without a gap
    std::string_view name;  // what it is about, for messages
    std::string_view sql;   // statements; no BEGIN, COMMIT or PRAGMA of its own
};

struct Migrated {
    int from = 0;
    int to = 0;                                   // the same where there was nothing to do
    std::optional<std::filesystem::path> backup;  // the copy of the file as it was, where made
};

// What a kind of file wants beside its steps.
struct MigrationCare {
    // Where the copy of a file of version `from` goes; without it `NAME.vN.bak` beside the file, N
    // being its version. A copy of that name is replaced.
    std::function<std::filesystem::path(int from)> backup_to = {};
    // Called after the steps, in the same transaction, for what SQL cannot say.
    std::function<void(Transaction&)> finish = {};
};

// Applies the steps that `database` has not had, in one transaction. A file that holds anything is
// first copied (see MigrationCare). Two programs may start at once: the second waits and finds it
// done. Before the beginning the tables, views and triggers are compared with those that the steps
// make: a file from a stranger could hold triggers of its own. Before the end all foreign keys and
// the whole file are checked. Throws Error where a step or a check fails, the copy cannot be made,
// or the file is newer than the last step; the database is then as it was. REQUIRES: numbers run
// from 1 without a gap, no transaction is open.
Migrated migrate(Database& database, std::span<const Migration> steps,
                 const MigrationCare& care = {});

}  // namespace coilbook::db
