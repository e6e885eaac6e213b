// Who did what when, and which fields that changed. Written by the catalogue itself (act.h and the
// triggers of the schema); here it is only read.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

struct HistoryEntry {
    ActNote note;
    int changes = 0;  // fields changed

    bool operator==(const HistoryEntry&) const = default;
};

// One field of one thing, changed in one act, with its values as they are stored.
struct FieldChange {
    std::string table;  // "coil", "reading", …
    std::string thing;  // its id; of a class or a setting the name
    std::string field;  // the column; "id", or a class's "name", says that the thing came to be
    db::Value was;      // monostate: nothing
    db::Value became;

    bool operator==(const FieldChange&) const = default;
};

class HistoryRepository {
  public:
    explicit HistoryRepository(const db::Database& database);

    // The acts, the last one first. Throws Error, as all functions here do.
    [[nodiscard]] std::vector<HistoryEntry> list(Page page = {});
    // What an act changed, in the order in which it did.
    [[nodiscard]] std::vector<FieldChange> changes_of(const Id<Act>& act);
    // The acts that changed the thing of that id, the last one first.
    [[nodiscard]] std::vector<HistoryEntry> of_thing(std::string_view thing);

  private:
    db::Statement list_;
    db::Statement list_changes_;
    db::Statement list_of_thing_;
};

}  // namespace coilbook::store
