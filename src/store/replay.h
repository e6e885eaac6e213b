// Making the tables anew out of the history, after acts came in from another copy.
//
// All acts stand in one order, (clock_ms, id), which is the same in every copy. Row numbers of acts
// and changes go by it, those of things by when they came to be, and every field holds what the
// last change made of it. Nothing is written into the history. Only what lies after the first act
// that came in is touched.
#pragma once

#include <cstdint>

#include "db/transaction.h"

namespace coilbook::store {

// `first_new` is the row number of the first act that came in; all that came in follow it.
// REQUIRES: db::RawWriting; `transaction` is of `database`. Throws Error.
void replay(const db::Database& database, db::Transaction& transaction, std::int64_t first_new);

}  // namespace coilbook::store
