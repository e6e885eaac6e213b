// Reads a table on a thread of its own, some rows ahead of who uses them: making out the cells of
// one row and keeping another are each about half of the work of an import.
#pragma once

#include <functional>

#include "exchange/records.h"

namespace coilbook::app {

using ReadRecords =
    std::function<Result<void>(const exchange::RecordBegin&, const exchange::RecordUse&)>;

// Lets `read` read, and calls `use` with each of its rows, in order and on the caller's thread;
// `begin` is called on the other one, before any row is used. Gives what `read` gives. The first
// exception of any of the three ends it all and comes out of here.
[[nodiscard]] Result<void> read_ahead(const ReadRecords& read, const exchange::RecordBegin& begin,
                                      const exchange::RecordUse& use);

}  // namespace coilbook::app
