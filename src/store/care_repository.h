// Conditions and photographs of coils, as the catalogue keeps them: rows are only added.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "catalog/coil_care.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/picture_repository.h"
#include "store/rows.h"

namespace coilbook::store {

class CareRepository {
  public:
    explicit CareRepository(const db::Database& database);

    // Adds what was seen. A Problem for a note that is not plain text, for 'other' without a note,
    // and for what is said to be good again where nothing of the kind stands. Throws Error for a
    // coil that the catalogue does not have.
    [[nodiscard]] Result<void> add(Act& act, const Condition& condition);
    // Adds a photograph with its bytes, which are kept once however many rows show them; where they
    // were damaged before, they are whole then. A Problem
    // for a note that is not plain text. Throws Error for a coil that the catalogue does not have
    // and for bytes that are not those of the photograph's digest and size.
    [[nodiscard]] Result<void> add(Act& act, const Photograph& photograph, std::string_view bytes);
    // The bytes of a photograph that is there, where they were lost or damaged: then true.
    bool bring_back(Act& act, const Photograph& photograph, std::string_view bytes);
    // Puts a photograph away. A Problem where it is not shown (any more).
    [[nodiscard]] Result<void> put_away(Act& act, const PutAway& word);

    // Throw Error where the file cannot be read. What is wrong with a coil now, and everything that
    // was seen on it and not undone; the oldest first.
    [[nodiscard]] std::vector<Condition> conditions_now(const Id<Coil>& coil);
    [[nodiscard]] std::vector<Condition> all_conditions(const Id<Coil>& coil);
    // What is wrong with coils that are not retired, for lists.
    [[nodiscard]] std::vector<Condition> conditions_now();
    // The photographs of a coil that were not put away, the last one first.
    [[nodiscard]] std::vector<Photograph> photographs(const Id<Coil>& coil);
    // The picture of that digest; nothing where it is not there, or not as it was.
    [[nodiscard]] std::optional<std::string> picture(std::string_view sha256);
    // A photograph's bytes. Throws Error where they are not there or not what they were.
    [[nodiscard]] std::string bytes_of(const Photograph& photograph);

  private:
    db::Statement insert_condition_;
    db::Statement insert_photograph_;
    db::Statement insert_put_away_;
    PictureRepository pictures_;
    db::Statement list_now_;
    db::Statement list_all_now_;
    db::Statement list_all_;
    db::Statement list_photographs_;
};

}  // namespace coilbook::store
