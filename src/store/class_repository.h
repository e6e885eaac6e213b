// The reference library, as this catalogue uses it: the classes that a coil can be confirmed as.
#pragma once

#include <string_view>

#include "catalog/reference_class.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

class ClassRepository {
  public:
    explicit ClassRepository(const db::Database& database);

    // Makes the catalogue's library this one, in this order. A class is known by its name: one that
    // is there gets the new figures, one that `library` no longer has is retired and keeps the
    // coils confirmed as it. `confirmed` is not taken from here but counted.
    // Throws Error for figures out of the ranges of catalog/reference_class.h.
    // REQUIRES: names are unique.
    void put_library(Act& act, const ReferenceLibrary& library);

    // Puts in the classes of `library` whose names this catalogue does not know; whatever it knows
    // stays as it is, retired classes retired; one that is lost, but retired by what the history
    // says last, comes in as retired. Gives how many came in. Throws Error as above.
    // REQUIRES: names are unique.
    int put_missing(Act& act, const ReferenceLibrary& library);

    // The library without what is retired; `confirmed` counts the coils whose last confirmation
    // names the class, retired coils included: they are examples all the same. Throws Error.
    [[nodiscard]] ReferenceLibrary library();

    // Whether a coil can be confirmed as it. Throws Error.
    [[nodiscard]] bool has(std::string_view name);
    // Whether it is there at all, if only retired. Throws Error.
    [[nodiscard]] bool is_known(std::string_view name);

  private:
    void put(Act& act, const ReferenceClass& reference_class, int position);

    db::Statement upsert_;
    db::Statement retire_;
    db::Statement list_;
    db::Statement find_;
    db::Statement is_known_;
    db::Statement was_retired_;
};

}  // namespace coilbook::store
