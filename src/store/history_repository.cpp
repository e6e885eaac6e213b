#include "store/history_repository.h"

namespace coilbook::store {
namespace {

HistoryEntry entry_from(const db::Row& row) {
    return {.note = {.id = id_at<Act>(row, "id"),
                     .at = instant_at(row, "at_utc"),
                     .who = row.text("who"),
                     .program = row.text("program"),
                     .what = row.text("what"),
                     .why = row.text("why")},
            .changes = count_at(row, "changes")};
}

FieldChange change_from(const db::Row& row) {
    return {.table = row.text("thing_table"),
            .thing = row.text("thing"),
            .field = row.text("field"),
            .was = row.value("was"),
            .became = row.value("became")};
}

}  // namespace

HistoryRepository::HistoryRepository(const db::Database& database)
    : list_(database, R"sql(
          SELECT page.*, (SELECT count(*) FROM change WHERE change.act = page.rid) AS changes
          FROM (SELECT * FROM act ORDER BY rid DESC LIMIT :limit OFFSET :offset) AS page
          ORDER BY page.rid DESC)sql"),
      list_changes_(database, R"sql(
          SELECT c.thing_table, c.thing, c.field, c.was, c.became
          FROM change AS c JOIN act AS a ON a.rid = c.act
          WHERE a.id = :act
          ORDER BY c.rid)sql"),
      list_of_thing_(database, R"sql(
          SELECT a.*, (SELECT count(*) FROM change WHERE change.act = a.rid) AS changes
          FROM act AS a
          WHERE a.rid IN (SELECT act FROM change WHERE thing = :thing)
          ORDER BY a.rid DESC)sql") {}

std::vector<HistoryEntry> HistoryRepository::list(Page page) {
    return list_.bind(":limit", page.limit).bind(":offset", page.offset).all(entry_from);
}

std::vector<FieldChange> HistoryRepository::changes_of(const Id<Act>& act) {
    return list_changes_.bind(":act", act.text()).all(change_from);
}

std::vector<HistoryEntry> HistoryRepository::of_thing(std::string_view thing) {
    return list_of_thing_.bind(":thing", thing).all(entry_from);
}

}  // namespace coilbook::store
