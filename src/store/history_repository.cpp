#include "store/history_repository.h"

#include <array>
#include <cassert>
#include <utility>

#include "base/text.h"

namespace coilbook::store {
namespace {

constexpr std::array<std::pair<ActState, std::string_view>, 4> states{{{ActState::done, "done"},
                                                                       {ActState::undone, "undone"},
                                                                       {ActState::undo, "undo"},
                                                                       {ActState::redo, "redo"}}};

ActState state_from(std::string_view name) {
    for (const auto& [state, known] : states) {
        if (known == name) return state;
    }
    throw Error("the history has an act in the state " + coilbook::quoted(name));
}

}  // namespace

HistoryRepository::HistoryRepository(const db::Database& database)
    : list_(database, R"sql(
          SELECT * FROM act_entry ORDER BY rid DESC LIMIT :limit OFFSET :offset)sql"),
      find_(database, R"sql(
          SELECT * FROM act_entry AS a WHERE a.id = :act)sql"),
      first_(database, R"sql(
          SELECT * FROM act_entry AS a ORDER BY a.rid LIMIT 1)sql"),
      list_changes_(database, R"sql(
          SELECT thing_table, thing, field, was, became FROM field_change
          WHERE act = (SELECT rid FROM act WHERE id = :act)
          ORDER BY rid, place)sql"),
      list_of_thing_(database, R"sql(
          SELECT * FROM act_entry AS a
          WHERE a.rid IN (SELECT act FROM change WHERE thing = :thing)
          ORDER BY a.rid DESC)sql"),
      list_of_code_(database, R"sql(
          SELECT * FROM act_entry AS a
          WHERE a.rid IN (
              SELECT act FROM change WHERE thing IN (
                  SELECT id FROM coil WHERE code = :code
                  UNION ALL
                  SELECT r.id FROM coil JOIN reading AS r ON r.coil = coil.rid
                  WHERE coil.code = :code
                  UNION ALL
                  SELECT v.id FROM coil JOIN verdict AS v ON v.coil = coil.rid
                  WHERE coil.code = :code
                  UNION ALL
                  SELECT w.id FROM coil JOIN confirmation AS w ON w.coil = coil.rid
                  WHERE coil.code = :code
                  UNION ALL
                  SELECT h.id FROM coil JOIN handover AS h ON h.coil = coil.rid
                  WHERE coil.code = :code
                  UNION ALL
                  SELECT n.id FROM coil JOIN condition AS n ON n.coil = coil.rid
                  WHERE coil.code = :code
                  UNION ALL
                  SELECT p.id FROM coil JOIN photograph AS p ON p.coil = coil.rid
                  WHERE coil.code = :code))
          ORDER BY a.rid DESC LIMIT :limit OFFSET :offset)sql") {}

std::vector<HistoryEntry> HistoryRepository::list(Page page) {
    return list_.bind(":limit", page.limit).bind(":offset", page.offset).all(history_entry_from);
}

std::optional<HistoryEntry> HistoryRepository::by_id(const Id<Act>& act) {
    return find_.bind(":act", act.text()).first(history_entry_from);
}

std::optional<HistoryEntry> HistoryRepository::first() {
    return first_.first(history_entry_from);
}

std::vector<FieldChange> HistoryRepository::changes_of(const Id<Act>& act) {
    return list_changes_.bind(":act", act.text()).all(field_change_from);
}

std::vector<HistoryEntry> HistoryRepository::of_thing(std::string_view thing) {
    return list_of_thing_.bind(":thing", thing).all(history_entry_from);
}

std::vector<HistoryEntry> HistoryRepository::of_code(std::string_view code, Page page) {
    if (!is_plain_text(code)) return {};
    return list_of_code_.bind(":code", code)
        .bind(":limit", page.limit)
        .bind(":offset", page.offset)
        .all(history_entry_from);
}

std::string_view name_of(ActState state) {
    for (const auto& [known, name] : states) {
        if (known == state) return name;
    }
    assert(false && "every state is named above");
    return "";
}

FieldChange field_change_from(const db::Row& row) {
    return {.table = row.text("thing_table"),
            .thing = row.text("thing"),
            .field = row.text("field"),
            .was = row.value("was"),
            .became = row.value("became")};
}

HistoryEntry history_entry_from(const db::Row& row) {
    return {.note = {.id = id_at<Act>(row, "id"),
                     .at = instant_at(row, "at_utc"),
                     .who = row.text("who"),
                     .program = row.text("program"),
                     .what = row.text("what"),
                     .why = row.text("why"),
                     .laptop = row.text("laptop")},
            .changes = count_at(row, "changes"),
            .state = state_from(row.text("state")),
            .undoes = optional_id_at<Act>(row, "undoes_id")};
}

}  // namespace coilbook::store
