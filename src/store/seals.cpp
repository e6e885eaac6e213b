#include "store/seals.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <string>

#include "base/error.h"
#include "db/digest.h"
#include "store/growing_tables.h"

namespace coilbook::store {
namespace {

std::vector<db::Statement> sealed_parts(const db::Database& database) {
    std::vector<db::Statement> parts;
    for (const auto& table : growing_tables) {
        const auto sql = cells_sql(table);
        parts.emplace_back(
            database, fmt::format("SELECT {0} FROM change AS c LEFT JOIN {1} AS t ON t.id = "
                                  "c.thing{2} WHERE c.act = :act AND c.thing_table = '{1}' AND "
                                  "c.field = 'id' ORDER BY c.rid",
                                  sql.cells, table.name, sql.joins));
    }
    return parts;
}

// Says what `field_change` has of a row of `change`, as sealing reads it, in the same order.
void add_changes(const db::Row& row, std::string_view table, db::Digest& digest) {
    constexpr int cells = 5;  // thing_table, thing, field, was, became; then what is told
    digest.add(table);
    row.add_to(digest, 1, cells - 1);
    if (row.is_null(cells)) return;
    constexpr std::array<std::string_view, 4> told{"code", "notes", "made_at_utc",
                                                   "retired_at_utc"};
    const auto thing = row.stored_text(1);
    for (int at = 0; at < static_cast<int>(told.size()); ++at) {
        if (row.is_null(cells + at)) continue;
        digest.add(table);
        digest.add(thing);
        digest.add(told[static_cast<std::size_t>(at)]);
        digest.add_null();
        row.add_to(digest, cells + at, 1);
    }
}

std::int64_t rid_of(const db::Row& row) {
    return row.integer("rid");
}

}  // namespace

Seals::Seals(const db::Database& database)
    : act_(database, R"sql(
          SELECT a.id, a.at_utc, a.who, a.program, a.what, a.why, undone.id AS undoes
          FROM act AS a
          LEFT JOIN undo AS u ON u.act = a.rid
          LEFT JOIN act AS undone ON undone.rid = u.undoes
          WHERE a.rid = :act)sql"),
      changes_(database, R"sql(
          SELECT thing_table, thing, field, was, became,
                 told_code, told_notes, told_made_at_utc, told_retired_at_utc
          FROM change
          WHERE rid BETWEEN (SELECT min(rid) FROM change WHERE act = :act)
                        AND (SELECT max(rid) FROM change WHERE act = :act)
            AND +act = :act  -- they stand together: not each by the index
          ORDER BY rid)sql"),
      parts_(sealed_parts(database)),
      unsealed_(database, R"sql(
          SELECT rid FROM act WHERE rid > (SELECT coalesce(max(act), 0) FROM seal) ORDER BY rid)sql"),
      form_(database, "SELECT seal_form, clock_ms, laptop FROM act WHERE rid = :act"),
      seen_(database, R"sql(
          SELECT s.sha256 FROM seen AS n
          JOIN act AS a ON a.rid = n.seen
          LEFT JOIN seal AS s ON s.act = n.seen
          WHERE n.act = :act ORDER BY a.id)sql"),
      insert_(database, R"sql(
          INSERT INTO seal (act, sha256) VALUES (:act, :sha256))sql"),
      left_(database, "SELECT sha256 FROM pruned_act WHERE act = :act"),
      insert_left_(database, R"sql(
          INSERT INTO pruned_act (act, sha256) VALUES (:act, :sha256)
          ON CONFLICT (act) DO UPDATE SET sha256 = excluded.sha256)sql"),
      all_(database, R"sql(
          SELECT a.rid, s.sha256 FROM act AS a LEFT JOIN seal AS s ON s.act = a.rid
          ORDER BY a.rid)sql"),
      last_(database, R"sql(
          SELECT a.rid, s.sha256 FROM act AS a LEFT JOIN seal AS s ON s.act = a.rid
          ORDER BY a.rid DESC LIMIT 1)sql"),
      strays_(database, R"sql(
          SELECT 1 AS found WHERE EXISTS (SELECT 1 FROM seal WHERE act NOT IN (SELECT rid FROM act))
                               OR EXISTS (SELECT 1 FROM open_act))sql"),
      size_(database, R"sql(
          SELECT count(*) AS changes FROM (SELECT 1 FROM change WHERE act = :act LIMIT :most))sql") {
}

std::string Seals::seal_of(std::int64_t act) {
    struct Form {
        std::int64_t form;
        std::int64_t clock_ms;
        std::string laptop;
    };
    const auto form =
        form_.bind(":act", act)
            .first([](const db::Row& row) {
                return Form{row.integer("seal_form"), row.integer("clock_ms"), row.text("laptop")};
            })
            .value();
    const auto seen = seen_.bind(":act", act).all([](const db::Row& row) {
        return row.optional_text("sha256").value_or("");
    });
    db::Digest digest;
    if (form.form == 1) {
        digest.add("coilbook seal 1");
        if (seen.empty()) digest.add_null();
    } else {
        digest.add("coilbook seal 2");
        digest.add(static_cast<std::int64_t>(seen.size()));
    }
    for (const auto& seal : seen) digest.add(seal);
    act_.bind(":act", act);
    for (auto rows = act_.rows(); rows.next();) rows.row().add_to(digest);
    if (form.form != 1) {
        digest.add(form.clock_ms);
        digest.add(form.laptop);
    }
    changes_.bind(":act", act);
    std::set<std::string, std::less<>> tables;
    std::string last;
    for (auto rows = changes_.rows(); rows.next();) {
        const auto table = rows.row().stored_text(0);
        add_changes(rows.row(), table, digest);
        if (table == last) continue;
        last = table;
        tables.insert(last);
    }
    const auto parts = form.form == 1 ? growing_tables_in_form_1 : parts_.size();
    for (std::size_t at = 0; at < parts; ++at) {
        if (!tables.contains(growing_tables[at].name)) continue;
        parts_[at].bind(":act", act);
        for (auto rows = parts_[at].rows(); rows.next();) rows.row().add_to(digest);
    }
    return digest.finish();
}

void Seals::seal(db::Transaction& transaction) {
    for (const auto act : unsealed_.all(rid_of)) {
        insert_.bind(":act", act).bind(":sha256", seal_of(act)).run(transaction);
    }
}

void Seals::seal_what_is_left(db::Transaction& transaction, std::int64_t act) {
    insert_left_.bind(":act", act).bind(":sha256", seal_of(act)).run(transaction);
}

std::optional<BrokenSeal> Seals::fault_of(std::int64_t act,
                                          const std::optional<std::string>& found) {
    const auto left =
        left_.bind(":act", act).first([](const db::Row& row) { return row.text("sha256"); });
    if (found && left.value_or(*found) == seal_of(act)) return std::nullopt;
    std::string id = "number " + std::to_string(act);
    try {
        id = act_.bind(":act", act)
                 .first([](const db::Row& row) { return row.text("id"); })
                 .value_or(id);
    } catch (const Error&) {  // its id is what was damaged
    }
    return BrokenSeal{id, found ? "what this act wrote is not what it was when it was sealed"
                                : "this act has no seal"};
}

std::vector<BrokenSeal> Seals::broken() {
    std::vector<BrokenSeal> faults;
    for (auto rows = all_.rows(); rows.next();) {
        const auto found = rows.row().optional_text("sha256");
        if (auto fault = fault_of(rows.row().integer("rid"), found)) {
            faults.push_back(std::move(*fault));
        }
    }
    const auto is_there = [](const db::Row&) { return true; };
    if (strays_.first(is_there)) {
        faults.push_back({"", "there are seals without an act, or an act that was never finished"});
    }
    return faults;
}

std::vector<BrokenSeal> Seals::last_broken(std::int64_t most) {
    struct Sealed {
        std::int64_t act;
        std::optional<std::string> seal;
    };
    const auto last = last_.first([](const db::Row& row) {
        return Sealed{row.integer("rid"), row.optional_text("sha256")};
    });
    if (!last) return {};
    const auto& [act, seal] = *last;
    const auto changes = size_.bind(":act", act).bind(":most", most + 1).first([](const auto& row) {
        return row.integer("changes");
    });
    if (seal && changes > most) return {};
    if (auto fault = fault_of(act, seal)) return {std::move(*fault)};
    return {};
}

}  // namespace coilbook::store
