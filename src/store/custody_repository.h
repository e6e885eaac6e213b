// The record of handovers, as the catalogue keeps it: rows are only added, the last one of a thing
// counts.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "catalog/custody.h"
#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

// A coil or rig that left the bin for good.
struct RetiredThing {
    Thing thing;
    Instant at;

    bool operator==(const RetiredThing&) const = default;
};

class CustodyRepository {
  public:
    explicit CustodyRepository(const db::Database& database);

    // Adds a handover; its `turn` is counted here. A Problem for a note that is not plain. Throws
    // Error for a thing, boat, rig or client that the catalogue does not have.
    [[nodiscard]] Result<void> add(Act& act, const Handover& handover);

    // Throw Error where the file cannot be read. The whole record, the oldest first, undone ones
    // left out.
    [[nodiscard]] std::vector<Handover> record();
    // Where every thing stands that was ever handed over, in the order of the record: enough to
    // know where everything is, and quick.
    [[nodiscard]] std::vector<Standing> standings();
    // All of a thing, the oldest first.
    [[nodiscard]] std::vector<Handover> all_of(const Thing& thing);
    // What went by that code when it was retired, the last one first.
    [[nodiscard]] std::vector<RetiredThing> retired_with(std::string_view code);

  private:
    db::Statement insert_;
    db::Statement list_;
    db::Statement list_last_;
    db::Statement list_of_thing_;
    db::Statement list_retired_;
};

}  // namespace coilbook::store
