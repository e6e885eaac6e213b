#include "store/conflicts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "db/digest.h"
#include "store/changing_tables.h"
#include "store/growing_tables.h"

namespace coilbook::store {
namespace {

constexpr std::array<std::pair<ConflictKind, std::string_view>, 7> kinds{
    {{ConflictKind::field, "field"},
     {ConflictKind::ended, "ended"},
     {ConflictKind::reading, "reading"},
     {ConflictKind::confirmation, "confirmation"},
     {ConflictKind::place, "place"},
     {ConflictKind::tip, "tip"},
     {ConflictKind::code, "code"}}};

Conflict a_conflict(ConflictKind kind, std::string table, std::string thing, std::string field,
                    std::vector<Choice> choices) {
    db::Digest digest;
    for (const auto& part : {std::string(name_of(kind)), table, thing, field}) digest.add(part);
    return {digest.finish().substr(0, 8),
            kind,
            std::move(table),
            std::move(thing),
            std::move(field),
            std::move(choices)};
}

// The last things said of one matter, none of which knew of another.
struct Said {
    std::int64_t act;
    Choice choice;
};
class LastWords {
  public:
    void say(const Lineage& lineage, Said said) {
        std::erase_if(words_,
                      [&](const Said& each) { return lineage.has_seen(said.act, each.act); });
        words_.push_back(std::move(said));
    }
    [[nodiscard]] const std::vector<Said>& words() const { return words_; }
    [[nodiscard]] bool differ() const {
        return std::ranges::any_of(words_, [&](const Said& each) {
            return each.choice.value != words_.front().choice.value;
        });
    }
    // The last of them stands.
    [[nodiscard]] std::vector<Choice> choices() const {
        std::vector<Choice> choices;
        for (const auto& word : words_) choices.push_back(word.choice);
        if (!choices.empty()) choices.back().stands = true;
        return choices;
    }

  private:
    std::vector<Said> words_;
};

// Which value of a field means that the thing is in use no longer; the other one is what it held.
bool is_end(std::string_view field, const db::Value& value) {
    if (field == "is_undone" || field == "is_retired") return value == db::Value{std::int64_t{1}};
    return (field == "retired_at_utc" || field == "cancelled_at_utc" ||
            field == "withdrawn_at_utc") &&
           !std::holds_alternative<std::monostate>(value);
}
db::Value value_in_use(std::string_view field) {
    if (field == "is_undone" || field == "is_retired") return std::int64_t{0};
    return {};
}

// Moments that only go along with something else.
bool is_mere_moment(std::string_view field) {
    return field == "made_at_utc" || field == "told_at_utc" || field == "forgotten_at_utc";
}

using Register = std::tuple<std::string, std::string, std::string>;  // table, thing, field

// The acts in which things came to be that point to the thing :thing of a table, or that brought in
// the thing itself, since the same table may be taken to both laptops.
std::string users_sql(std::string_view table) {
    std::string sql = fmt::format(
        "SELECT c.act, a.id FROM change AS c JOIN act_state AS a ON a.rid = c.act "
        "WHERE c.thing = :thing AND c.thing_table = '{}' AND c.field = '{}' AND a.state = 'done'",
        table, key_of(table));
    for (const auto& pointing : growing_tables) {
        for (const auto& column : pointing.columns) {
            if (column.to != table) continue;
            sql += fmt::format(
                " UNION ALL SELECT c.act, a.id FROM {} AS t JOIN change AS c ON c.thing = t.id AND "
                "c.thing_table = '{}' AND c.field = 'id' JOIN act_state AS a ON a.rid = c.act "
                "WHERE t.{} = (SELECT rid FROM {} WHERE {} = :thing) AND t.is_undone = 0 "
                "AND a.state = 'done'",
                pointing.name, pointing.name, column.name, table, key_of(table));
        }
    }
    return sql;
}

}  // namespace

std::string_view name_of(ConflictKind kind) {
    for (const auto& [known, name] : kinds) {
        if (known == kind) return name;
    }
    assert(false && "every kind is named above");
    return "";
}

Conflicts::Conflicts(const db::Database& database) : database_(database) {}

void Conflicts::find_fields(const Lineage& lineage, std::vector<Conflict>& found) {
    struct Told {
        std::int64_t act;
        std::string act_id;
        std::string field;
    };
    std::map<Register, LastWords> registers;
    std::vector<Register> order;
    std::map<std::pair<std::string, std::string>, std::vector<Told>> standing;  // by thing
    db::Statement list(database_, R"sql(
        SELECT c.act, a.id, a.state, c.thing_table, c.thing, c.field, c.became
        FROM field_change AS c JOIN act_state AS a ON a.rid = c.act
        WHERE c.act >= :first AND NOT (c.was IS c.became AND a.state = 'undone')
        ORDER BY c.rid, c.place)sql");
    list.bind(":first", lineage.first_apart());
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        const auto table = row.text("thing_table");
        const auto field = row.text("field");
        if (field == key_of(table) || is_mere_moment(field)) continue;
        Register about{table, row.text("thing"), field};
        const auto act = row.integer("act");
        const auto id = row.text("id");
        auto [at, is_new] = registers.try_emplace(about);
        if (is_new) order.push_back(about);
        at->second.say(lineage, {act, {"", row.value("became"), id, false}});
        if (row.text("state") == "done") {
            standing[{table, std::get<1>(about)}].push_back({act, id, field});
        }
    }
    std::map<std::string, db::Statement, std::less<>> users;
    for (const auto& about : order) {
        const auto& [table, thing, field] = about;
        const auto& last = registers.find(about)->second;
        if (last.differ()) {
            found.push_back(a_conflict(ConflictKind::field, table, thing, field, last.choices()));
            continue;
        }
        const auto& end = last.words().back();
        if (!is_end(field, end.choice.value)) continue;
        // What else was done with the thing by somebody who did not know of its end.
        std::optional<Told> used;
        for (const auto& told : standing[{table, thing}]) {
            if (told.field != field && lineage.are_apart(told.act, end.act)) used = told;
        }
        if (!used) {
            auto at = users.find(table);
            if (at == users.end()) {
                at = users.emplace(table, db::Statement(database_, users_sql(table))).first;
            }
            at->second.bind(":thing", thing);
            for (auto rows = at->second.rows(); rows.next();) {
                const auto act = rows.row().integer("act");
                if (lineage.are_apart(act, end.act)) used = Told{act, rows.row().text("id"), ""};
            }
        }
        if (!used) continue;
        std::vector<Choice> choices{{"", value_in_use(field), used->act_id, false}, end.choice};
        choices.back().stands = true;
        found.push_back(a_conflict(ConflictKind::ended, table, thing, field, std::move(choices)));
    }
}

void Conflicts::find_confirmations(const Lineage& lineage, std::vector<Conflict>& found) {
    std::map<std::string, LastWords> by_coil;
    db::Statement list(database_, R"sql(
        SELECT c.act, a.id AS act_id, w.id, coil.id AS coil, coalesce(k.name, '') AS class
        FROM change AS c
        JOIN act AS a ON a.rid = c.act
        JOIN confirmation AS w ON w.id = c.thing
        JOIN coil ON coil.rid = w.coil
        LEFT JOIN reference_class AS k ON k.rid = w.class
        WHERE c.act >= :first AND c.thing_table = 'confirmation' AND c.field = 'id'
          AND w.is_undone = 0
        ORDER BY c.rid)sql");
    list.bind(":first", lineage.first_apart());
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        by_coil[row.text("coil")].say(
            lineage,
            {row.integer("act"), {row.text("id"), row.text("class"), row.text("act_id"), false}});
    }
    for (const auto& [coil, last] : by_coil) {
        if (!last.differ()) continue;
        found.push_back(
            a_conflict(ConflictKind::confirmation, "coil", coil, "class", last.choices()));
    }
}

void Conflicts::find_places(const Lineage& lineage, std::vector<Conflict>& found) {
    db::Statement disputed(database_, R"sql(
        SELECT coil.id AS coil, rig.id AS rig
        FROM current_handover AS h
        LEFT JOIN coil ON coil.rid = h.coil
        LEFT JOIN rig ON rig.rid = h.rig
        WHERE h.turn <> (SELECT count(*) - 1 FROM handover AS o
                         WHERE o.is_undone = 0 AND (o.coil = h.coil OR o.rig = h.rig)))sql");
    db::Statement list(database_, R"sql(
        SELECT c.act, a.id AS act_id, h.id, h.place
        FROM handover AS h
        JOIN change AS c ON c.thing = h.id AND c.thing_table = 'handover' AND c.field = 'id'
        JOIN act AS a ON a.rid = c.act
        WHERE h.is_undone = 0 AND (h.coil = (SELECT rid FROM coil WHERE id = :thing)
                                   OR h.rig = (SELECT rid FROM rig WHERE id = :thing))
        ORDER BY h.rid)sql");
    struct Disputed {
        std::string table, thing;
    };
    const auto things = disputed.all([](const db::Row& row) {
        const auto coil = row.optional_text("coil");
        return coil ? Disputed{"coil", *coil} : Disputed{"rig", row.text("rig")};
    });
    for (const auto& [table, thing] : things) {
        LastWords last;
        std::vector<Choice> all;
        list.bind(":thing", thing);
        for (auto rows = list.rows(); rows.next();) {
            const auto& row = rows.row();
            Choice choice{row.text("id"), row.text("place"), row.text("act_id"), false};
            all.push_back(choice);
            last.say(lineage, {row.integer("act"), std::move(choice)});
        }
        auto choices = last.choices();
        if (choices.size() < 2) {  // a later undo, not a meeting, upset the count
            if (all.size() < 2) continue;
            choices.assign(all.end() - 2, all.end());
            choices.back().stands = true;
        }
        found.push_back(a_conflict(ConflictKind::place, table, thing, "place", std::move(choices)));
    }
}

// The tip that was put on last counts as on, and the others as in the wallet.
void Conflicts::find_tips(std::vector<Conflict>& found) {
    db::Statement list(database_, R"sql(
        SELECT rig.id AS rig, h.id, coil.code, a.id AS act_id
        FROM current_handover AS h
        JOIN rig ON rig.rid = h.in_rig
        JOIN coil ON coil.rid = h.coil
        JOIN change AS c ON c.thing = h.id AND c.thing_table = 'handover' AND c.field = 'id'
        JOIN act AS a ON a.rid = c.act
        WHERE h.role = 'tip'
          AND h.in_rig IN (SELECT in_rig FROM current_handover WHERE role = 'tip'
                           GROUP BY in_rig HAVING count(*) > 1)
        ORDER BY rig.id, h.rid)sql");
    std::map<std::string, std::vector<Choice>> by_rig;
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        by_rig[row.text("rig")].push_back(
            {row.text("id"), row.text("code"), row.text("act_id"), false});
    }
    for (auto& [rig, choices] : by_rig) {
        choices.back().stands = true;
        found.push_back(a_conflict(ConflictKind::tip, "rig", rig, "tip", std::move(choices)));
    }
}

void Conflicts::find_readings(std::vector<Conflict>& found) {
    db::Statement list(database_, R"sql(
        SELECT coil.id AS coil, r.field, r.id, r.as_written, a.id AS act_id,
               r.rid IN (SELECT rid FROM current_reading) AS stands,
               iif(r.field = 'diameters', r.supersedes, 0) AS instead_of
        FROM open_reading AS r
        JOIN coil ON coil.rid = r.coil
        JOIN change AS c ON c.thing = r.id AND c.thing_table = 'reading' AND c.field = 'id'
        JOIN act AS a ON a.rid = c.act
        WHERE EXISTS (SELECT 1 FROM open_reading AS o
                      WHERE o.coil = r.coil AND o.field = r.field AND o.rid <> r.rid
                        AND (r.field <> 'diameters' OR o.supersedes = r.supersedes))
        ORDER BY r.coil, r.field, instead_of, r.rid)sql");
    std::tuple<std::string, std::string, std::int64_t> about;
    std::vector<Choice> choices;
    const auto close = [&] {
        if (choices.size() > 1) {
            found.push_back(a_conflict(ConflictKind::reading, "coil", std::get<0>(about),
                                       std::get<1>(about), std::move(choices)));
        }
        choices.clear();
    };
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        const std::tuple here{row.text("coil"), row.text("field"), row.integer("instead_of")};
        if (here != about) close();
        about = here;
        choices.push_back({row.text("id"), row.text("as_written"), row.text("act_id"),
                           row.integer("stands") == 1});
    }
    close();
}

void Conflicts::find_codes(std::vector<Conflict>& found) {
    // Coils and rigs share the codes; clients have their own, and each kind of instrument.
    db::Statement list(database_, R"sql(
        WITH coded (kind, code, thing_table, thing) AS (
            SELECT 'thing', code, 'coil', id FROM coil
            WHERE retired_at_utc IS NULL AND is_undone = 0
            UNION ALL
            SELECT 'thing', code, 'rig', id FROM rig
            WHERE retired_at_utc IS NULL AND is_undone = 0
            UNION ALL
            SELECT 'client', code, 'client', id FROM client WHERE is_undone = 0
            UNION ALL
            SELECT 'boat', name, 'boat', id FROM boat
            WHERE retired_at_utc IS NULL AND is_undone = 0
            UNION ALL
            SELECT kind, code, 'instrument', id FROM instrument WHERE is_undone = 0),
        twice AS (
            SELECT coded.*, (SELECT min(c.rid) FROM change AS c
                             WHERE c.thing = coded.thing AND c.thing_table = coded.thing_table)
                            AS born
            FROM coded
            WHERE (kind, code) IN (SELECT kind, code FROM coded GROUP BY kind, code
                                   HAVING count(*) > 1))
        SELECT twice.kind, twice.code, twice.thing_table, twice.thing, a.id AS act_id
        FROM twice
        JOIN change AS c ON c.rid = twice.born
        JOIN act AS a ON a.rid = c.act
        ORDER BY twice.kind, twice.code, twice.born)sql");
    std::pair<std::string, std::string> about;
    std::vector<Choice> choices;
    std::string table;
    const auto close = [&] {
        if (choices.size() > 1) {
            // Of instruments the last one counts, of others none: a code that two have names none.
            choices.back().stands = table == "instrument";
            found.push_back(a_conflict(ConflictKind::code, about.first, about.second, "code",
                                       std::move(choices)));
        }
        choices.clear();
    };
    for (auto rows = list.rows(); rows.next();) {
        const auto& row = rows.row();
        const std::pair here{row.text("kind"), row.text("code")};
        if (here != about) close();
        about = here;
        table = row.text("thing_table");
        choices.push_back({row.text("thing"), table, row.text("act_id"), false});
    }
    close();
}

std::vector<Conflict> Conflicts::list() {
    const db::Snapshot one_moment(database_);
    const Lineage lineage(database_);
    std::vector<Conflict> found;
    find_fields(lineage, found);
    find_readings(found);
    find_confirmations(lineage, found);
    find_places(lineage, found);
    find_tips(found);
    find_codes(found);
    return found;
}

}  // namespace coilbook::store
