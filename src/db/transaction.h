// All or nothing: what is done between a Transaction's birth and its commit() happens together, or
// not at all. And a Snapshot: several readings of the same moment.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "db/database.h"

namespace coilbook::db {

// A writing transaction. It takes the one writer's place at once (BEGIN IMMEDIATE), so that what it
// has read cannot change before it writes, and two programs queue instead of failing half-way.
// Rolled back by its destructor unless commit() came first. Statements that write want one (see
// statement.h).
class Transaction {
  public:
    // Waits up to 5 s for another writer. Throws Error then, for a database that was opened for
    // reading, and where this database is in a
    // transaction or a snapshot already: transactions do not nest.
    explicit Transaction(Database& database);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;

    // Makes everything durable. Throws Error where that fails or the transaction is over already;
    // nothing has happened then.
    void commit();

    // Neither committed, nor rolled back by SQLite itself, as it does when the disk is full.
    [[nodiscard]] bool is_open() const;

    // Runs several statements without parameters: for migrations. Throws Error.
    void run_script(std::string_view sql);

    // For this folder only.
    [[nodiscard]] const Connection& connection() const { return *connection_; }

  private:
    std::shared_ptr<Connection> connection_;
    bool is_over_ = false;
};

// While it lives, this database reads one and the same moment, whatever others commit. Inside a
// Transaction that is so already, and the Snapshot does nothing. Keep it short: others' writes pile
// up in the log meanwhile.
class Snapshot {
  public:
    explicit Snapshot(const Database& database);
    ~Snapshot();
    Snapshot(const Snapshot&) = delete;
    Snapshot& operator=(const Snapshot&) = delete;

  private:
    std::shared_ptr<Connection> connection_;
    bool is_own_ = false;
};

}  // namespace coilbook::db
