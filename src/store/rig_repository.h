// The rigs, as the catalogue keeps them. What is strung on them is custody (custody_repository.h).
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "catalog/rig.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

class RigRepository {
  public:
    explicit RigRepository(const db::Database& database);

    // Adds a rig. A Problem for text that is not plain, and for a code that cannot stand on a label
    // or that a living coil or another rig has.
    [[nodiscard]] Result<void> add(Act& act, const Rig& rig);
    // Makes the rig of that id as told; made_at stays. A Problem as with add, and for no such rig.
    [[nodiscard]] Result<void> change(Act& act, const Rig& rig);

    // Throw Error where the file cannot be read, as all reading functions of repositories do.
    [[nodiscard]] std::optional<Rig> by_code(std::string_view code);  // not among the retired
    [[nodiscard]] std::optional<Rig> by_id(const Id<Rig>& id);
    // Those that are not retired, by code.
    [[nodiscard]] std::vector<Rig> list();

    // What add() and change() ask before they write.
    [[nodiscard]] Result<void> check(const Rig& rig);

  private:
    db::Statement insert_;
    db::Statement update_;
    db::Statement find_by_code_;
    db::Statement find_by_id_;
    db::Statement list_;
    db::Statement taken_;
};

}  // namespace coilbook::store
