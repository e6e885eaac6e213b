// What a search of the bin needs to know of each coil (search_index.h), read out of the catalogue
// one after another: a long bin need not be held whole.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "catalog/coil.h"
#include "catalog/readings.h"
#include "db/statement.h"
#include "store/search_index.h"

namespace coilbook::store {

struct SearchableCoil {
    std::int64_t rid = 0;
    Id<Coil> id;
    std::string code;
    std::string notes;
    std::string class_name;  // confirmed; empty where none is
    CoilReadings readings;
};

// What has changed since a mark.
struct ChangedCoils {
    bool is_all = false;              // of everything: the index must be made anew
    std::vector<std::int64_t> coils;  // else of these, retired and undone ones included
};

class SearchableRepository {
  public:
    explicit SearchableRepository(const db::Database& database);

    // Of the last act; nothing where there is none. Throws Error, as all functions here do.
    [[nodiscard]] std::optional<SearchMark> mark();
    // More than `most` changed coils are all.
    [[nodiscard]] ChangedCoils changed_since(const SearchMark& mark, std::size_t most = 20'000);

    // Calls `use` with every coil that is not retired, in the order in which they came.
    void each(const std::function<void(const SearchableCoil&)>& use);
    // The coil of that number; nothing where it is retired or undone.
    [[nodiscard]] std::optional<SearchableCoil> by_rid(std::int64_t rid);

  private:
    db::Statement mark_;
    db::Statement seal_of_;
    db::Statement changed_tables_;
    db::Statement changed_coils_;
    db::Statement list_;
    db::Statement list_readings_;
    db::Statement find_;
    db::Statement find_readings_;
};

}  // namespace coilbook::store
