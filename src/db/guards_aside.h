// The schema's own guards stand aside for a while: for masses of rows that were proven before.
#pragma once

#include "db/transaction.h"

namespace coilbook::db {

// While it lives, what is written in `transaction` is held against no CHECK and fires no trigger;
// types, NOT NULL, UNIQUE and foreign keys stay. REQUIRES of who writes meanwhile: every value has
// passed what the CHECKs ask, and what the triggers would have written is written by hand.
// Database::damage() holds all rows against the CHECKs, whenever they were written.
// Statements need not be prepared anew: SQLite does so by itself wherever the guards step aside or
// come back, which costs some 0.1 ms for each that is used then.
class GuardsAside {
  public:
    // Throws Error where SQLite refuses.
    explicit GuardsAside(Transaction& transaction);
    // Where they do not come back, the program ends, and the transaction with it.
    ~GuardsAside();
    GuardsAside(const GuardsAside&) = delete;
    GuardsAside& operator=(const GuardsAside&) = delete;

  private:
    const Connection& connection_;
};

}  // namespace coilbook::db
