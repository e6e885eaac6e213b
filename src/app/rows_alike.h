// Rows without ids, of things that nothing else names (readings, outings): which row of the
// catalogue one of them means, so that the same file means the same things when it comes in again.
//
// It means one that says the same; of several the second row of the file means the second one, and
// so on. Where there is none it is new. If it leaves nothing to the moment of its import, it gets
// an id that follows from what it says, so that a table that is taken to two laptops means the same
// things on both; else (a moment is missing, or a turn) they would differ, and it gets an id of its
// own.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "store/kinds.h"

namespace coilbook::app {

class RowsAlike {
  public:
    // REQUIRES: `table` outlives it.
    explicit RowsAlike(store::KindRepository& table) : table_(table) {}

    // The id that the row means, of which every missing text is empty; nothing where it is to get a
    // new one. Throws Error.
    [[nodiscard]] std::optional<std::string> next_id(const store::KindRow& row);

  private:
    using Columns = std::vector<bool>;                                      // of the kind
    using Ids = std::unordered_map<std::string, std::vector<std::string>>;  // by what rows say
    [[nodiscard]] bool is_open(std::size_t column, const store::KindRow& row) const;
    [[nodiscard]] std::string said(const store::KindRow& row, const Columns& open) const;
    [[nodiscard]] const Ids& ids_of(const Columns& open);

    store::KindRepository& table_;
    std::map<std::string, std::size_t> times_;  // that rows of the file said this
    std::map<Columns, Ids> by_open_;
};

}  // namespace coilbook::app
