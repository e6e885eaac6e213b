#include "db/transaction.h"

#include "base/error.h"
#include "db/connection.h"

namespace coilbook::db {
namespace {

// A destructor must not throw, and a rollback that fails leaves nothing to do: SQLite rolls back by
// itself when the file is opened next.
void roll_back(const Connection& connection) noexcept {
    if (!connection.in_transaction()) return;
    try {
        connection.command("ROLLBACK");
    } catch (const Error&) {
    }
}

}  // namespace

Transaction::Transaction(Database& database) : connection_(database.connection()) {
    if (!database.why_read_only().empty()) throw Error(database.why_read_only());
    database.wait_until_sound();
    if (connection_->in_transaction()) {
        throw Error("a transaction was begun inside another on " + database.shown());
    }
    connection_->command("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
    if (!is_over_) roll_back(*connection_);
}

void Transaction::commit() {
    if (!is_open()) throw Error("committing a transaction that is over: nothing was saved");
    connection_->command("COMMIT");
    is_over_ = true;
}

bool Transaction::is_open() const {
    return !is_over_ && connection_->in_transaction();
}

void Transaction::run_script(std::string_view sql) {
    if (!is_open()) throw Error("running a script in a transaction that is over");
    connection_->script(std::string(sql));
}

Snapshot::Snapshot(const Database& database)
    : connection_(database.connection()), is_own_(!connection_->in_transaction()) {
    if (is_own_) connection_->command("BEGIN DEFERRED");
}

Snapshot::~Snapshot() {
    if (is_own_) roll_back(*connection_);
}

}  // namespace coilbook::db
