#include "db/looking_through.h"

#include "base/error.h"
#include "db/database.h"

namespace coilbook::db {

LookingThrough::LookingThrough(const Connection& reading) : connection_(reading.again()) {
    // This one leaves the log alone, even where it is the last to close.
    sqlite3_db_config(connection_.handle(), SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
    connection_.set_safe();
    connection_.command("PRAGMA query_only = ON");
    thread_ = std::thread([this] {
        try {
            found_ = first_damage(connection_);
        } catch (const Error& error) {
            found_ = error.what();
        }
        is_over_ = true;
    });
}

LookingThrough::~LookingThrough() {
    // Asked again and again, since what is asked before the check has begun is forgotten.
    while (!is_over_) {
        sqlite3_interrupt(connection_.handle());
        std::this_thread::yield();
    }
    if (thread_.joinable()) thread_.join();
}

const std::string& LookingThrough::found() {
    if (thread_.joinable()) thread_.join();
    return found_;
}

std::string first_damage(const Connection& connection) {
    const auto found = connection.word("PRAGMA quick_check(1)");
    return found == "ok" ? "" : in_words(SQLITE_CORRUPT, connection.shown(), found);
}

}  // namespace coilbook::db
