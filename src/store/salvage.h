// Bringing a damaged catalogue into a new one, as far as it can still be read.
//
// Rows come over with their numbers, the history with its entries. What was lost is counted, the
// acts whose seals no longer fit are named, and then everything is sealed anew: the new catalogue
// is sound in itself, and its last act says what happened to it.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "db/salvage.h"
#include "store/catalogue.h"

namespace coilbook::store {

struct Salvaged {
    std::vector<db::SalvagedTable> tables;
    std::vector<BrokenSeal> broken;    // acts that are not what they were, or lost some of it
    std::vector<std::string> settled;  // fields and things on which rows and history differed
    bool list_was_lost = false;        // of tables: it was made anew (db/table_list.h)
    std::size_t lost_pictures = 0;     // that photographs show, and that are not as they were

    [[nodiscard]] bool is_whole() const;
};

// Makes a new catalogue at `out` of what can be read of `damaged`, which stays as it was. `note` is
// for the act that ends it. Throws Error, and leaves nothing at `out`, where nothing can be read.
[[nodiscard]] Salvaged salvage(const std::filesystem::path& damaged,
                               const std::filesystem::path& out, const ActNote& note);

}  // namespace coilbook::store
