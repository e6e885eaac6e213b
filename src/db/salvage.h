// Bringing out of a damaged file what can still be read, row by row.
//
// SQLite stops at the first page that it cannot understand. Here each table is read by ranges of
// its row numbers, and a range that fails is halved until only what lies on the damaged page is
// left out. What is read may still be wrong where a bit flipped inside a value: who calls this
// looks at it again (constraints of the new tables, seals). Leaves out: the head of the file. Where
// its list of tables is lost, table_list.h makes one.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "db/database.h"

namespace coilbook::db {

struct SalvagedTable {
    std::string table;
    std::int64_t rows = 0;      // brought over
    std::int64_t refused = 0;   // read, but what they hold cannot be: the constraints say so
    std::int64_t dangling = 0;  // read, but they point to a row that was lost
    std::int64_t gaps = 0;      // stretches of row numbers that could not be read

    bool operator==(const SalvagedTable&) const = default;
};

// Copies the rows of `tables` from `damaged` into the tables of the same names in `into`, which
// are emptied first, with their row numbers and without running any trigger; columns that only one
// of the two has are left out. Everything or nothing. Tells of each table how it went, in the
// order given. Throws Error where not even the first page can be read, or `into` not written.
[[nodiscard]] std::vector<SalvagedTable> salvage(const Database& damaged, Database& into,
                                                 std::span<const std::string_view> tables);

// Deletes all rows of a table, past its triggers: for what a salvage makes anew. Throws Error.
void empty_table(Database& database, std::string_view table);

}  // namespace coilbook::db
