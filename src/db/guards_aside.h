// The schema's own guards stand aside for a while: for masses of rows that were proven before.
#pragma once

#include "db/transaction.h"

namespace coilbook::db {

enum class Guards { triggers, triggers_and_checks };

// While it lives, what is written in `transaction` fires no trigger and, where that is said, is
// held against no CHECK; types, NOT NULL, UNIQUE and foreign keys stay. REQUIRES: no other one
// lives on this database, nor a RawWriting. And of who writes meanwhile: what the triggers would
// have written is written by hand, and every value passes the CHECKs, which Database::damage() asks
// of all rows whenever they were written: with one that does not, the catalogue is damaged.
// Statements need not be prepared anew: SQLite does so by itself wherever the guards step aside or
// come back, which costs some 0.1 ms for each that is used then, and 1 to 2 ms for one of 5000
// parameters.
class GuardsAside {
  public:
    // Throws Error where SQLite refuses.
    GuardsAside(Transaction& transaction, Guards which);
    // Where they do not come back, the program ends, and the transaction with it.
    ~GuardsAside();
    GuardsAside(const GuardsAside&) = delete;
    GuardsAside& operator=(const GuardsAside&) = delete;

  private:
    const Connection& connection_;
};

}  // namespace coilbook::db
