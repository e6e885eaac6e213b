// A damaged file whose own list of tables is lost, with a list made anew.
//
// SQLite reads the list (sqlite_schema, on the first pages) before anything else, and gives up on
// the whole file where one byte of it cannot be understood, though every row may still be there.
// Here the pages are looked at one by one: a tree of rows whose root no other page points to must
// be a table, and which one shows in how many columns its rows have and of what types. A copy of
// the file gets a list of these roots; of it the rows are then read as of any damaged file
// (salvage.h). Leaves out: a first page whose first hundred bytes are lost; indexes, which a
// salvage does not need; rows of a table that never had any. Source of the layout: SQLite's
// documentation, fileformat2.html, sections 1.3, 1.5, 1.6 and 2.1.
#pragma once

#include <filesystem>
#include <optional>

#include "db/database.h"

namespace coilbook::db {

// Whether SQLite can read the list of tables.
[[nodiscard]] bool has_table_list(const Database& database);

class Relisted {
  public:
    // Makes the copy at `copy`, readable by its owner alone, with the tables that `pattern` has.
    // Trees that lost their root lie in tables NAME_2, NAME_3 and so on. `damaged` stays as it is.
    // Throws Error, and leaves nothing at `copy`, where it exists already or cannot be written.
    Relisted(const Database& damaged, const Database& pattern, const std::filesystem::path& copy);
    ~Relisted();
    Relisted(const Relisted&) = delete;
    Relisted& operator=(const Relisted&) = delete;

    [[nodiscard]] const Database& database() const { return *database_; }

  private:
    void remove() const;

    std::filesystem::path copy_;
    std::optional<Database> database_;
};

}  // namespace coilbook::db
