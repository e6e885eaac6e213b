// Who did what when, and which fields that changed. Written by the catalogue itself (act.h and the
// triggers of the schema); here it is only read.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "db/statement.h"
#include "store/act.h"
#include "store/rows.h"

namespace coilbook::store {

// What has become of an act.
enum class ActState {
    done,    // it stands
    undone,  // it was taken back
    undo,    // it took another one back
    redo,    // it took an undo back
};
[[nodiscard]] std::string_view name_of(ActState state);

struct HistoryEntry {
    ActNote note;
    int changes = 0;  // fields changed
    ActState state = ActState::done;
    std::optional<Id<Act>> undoes = {};  // of an undo the act that it took back, of a redo the undo

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
    [[nodiscard]] std::optional<HistoryEntry> by_id(const Id<Act>& act);
    // The one with which the catalogue began; nothing in an empty history.
    [[nodiscard]] std::optional<HistoryEntry> first();
    // What an act changed, in the order in which it did.
    [[nodiscard]] std::vector<FieldChange> changes_of(const Id<Act>& act);
    // The acts that changed the thing of that id, the last one first.
    [[nodiscard]] std::vector<HistoryEntry> of_thing(std::string_view thing);
    // The acts that changed a coil of that code, retired and undone ones included, or what was read
    // off it, said of it, seen on it or done with it, the last one first.
    [[nodiscard]] std::vector<HistoryEntry> of_code(std::string_view code, Page page = {});

  private:
    db::Statement list_;
    db::Statement find_;
    db::Statement first_;
    db::Statement list_changes_;
    db::Statement list_of_thing_;
    db::Statement list_of_code_;
};

// The change in a row with the columns of `change`.
[[nodiscard]] FieldChange field_change_from(const db::Row& row);
// The entry in a row with the columns of act_state and `changes`.
[[nodiscard]] HistoryEntry history_entry_from(const db::Row& row);

}  // namespace coilbook::store
