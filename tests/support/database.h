// What tests of the database share: a kind of file, small helpers, and the words of an Error.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "base/error.h"
#include "db/database.h"
#include "db/statement.h"
#include "db/transaction.h"
#include "support/temporary_folder.h"
#include "support/words.h"

namespace coilbook::db {

inline FileKind shelf_kind(int newest_version = 3) {
    return {.application_id = 0x53484c46, .newest_version = newest_version, .name = "shelf"};
}

inline void run_script(Database& database, const std::string& sql) {
    Transaction transaction(database);
    transaction.run_script(sql);
    transaction.commit();
}

inline std::int64_t number(const Database& database, const std::string& sql) {
    Statement statement(database, sql);
    return statement.first([](const Row& row) { return row.integer("n"); }).value_or(-1);
}

}  // namespace coilbook::db
