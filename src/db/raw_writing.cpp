#include "db/raw_writing.h"

#include "db/connection.h"

namespace coilbook::db {

RawWriting::RawWriting(const Database& database) : connection_(database.connection()) {
    connection_->command("PRAGMA foreign_keys = OFF");
    sqlite3_db_config(connection_->handle(), SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
}

RawWriting::~RawWriting() {
    sqlite3_db_config(connection_->handle(), SQLITE_DBCONFIG_ENABLE_TRIGGER, 1, nullptr);
    sqlite3_db_config(connection_->handle(), SQLITE_DBCONFIG_ENABLE_FKEY, 1, nullptr);
}

}  // namespace coilbook::db
