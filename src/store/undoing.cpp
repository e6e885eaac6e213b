#include "store/undoing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <string_view>
#include <tuple>

#include "base/text.h"
#include "store/changing_tables.h"
#include "store/lineage.h"

namespace coilbook::store {
namespace {

// Whether `field` says that a thing came to be.
bool is_birth(std::string_view table, std::string_view field) {
    const auto* known = table_named(table);
    return known != nullptr && field == known->key;
}

// UPDATE coil SET code = iif(:set_code, :code, code), … WHERE id = :thing AND …; it changes nothing
// where a field that it sets does not hold what the history says.
std::string restoring_sql(const ChangingTable& table) {
    std::string set;
    std::string guard;
    for (const auto column : table.columns) {
        set += fmt::format("{0}{1} = iif(:set_{1}, :{1}, {1})", set.empty() ? "" : ", ", column);
        guard += fmt::format(" AND (NOT :set_{0} OR {0} IS :from_{0})", column);
    }
    return fmt::format("UPDATE {} SET {} WHERE {} = :thing{}", table.name, set, table.key, guard);
}

// The last standing act after :act in which a thing that `things` finds came to be.
std::string last_act_making(std::string_view things) {
    return fmt::format(R"sql(
        SELECT max(a.rid) AS rid
        FROM ({}) AS made
        JOIN change AS c ON c.thing = made.id AND c.thing_table = made.thing_table
        JOIN act_state AS a ON a.rid = c.act
        WHERE c.act > :act AND c.field = 'id' AND a.state = 'done')sql",
                       things);
}

std::map<std::string, db::Statement, std::less<>> hanging_on(const db::Database& database) {
    // A reading without a second value in its field, the word on what a coil is, and where a thing
    // is, are places that one thing fills at a time: a later one there hangs on the earlier as
    // well.
    constexpr auto nothing = "SELECT '' AS thing_table, '' AS id WHERE :thing IS NULL";
    const std::array<std::pair<const char*, const char*>, 16> things{{
        {"coil", R"sql(
            SELECT 'reading' AS thing_table, id FROM reading
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing)
            UNION ALL
            SELECT 'verdict', id FROM verdict
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing)
            UNION ALL
            SELECT 'confirmation', id FROM confirmation
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing)
            UNION ALL
            SELECT 'handover', id FROM handover
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing)
            UNION ALL
            SELECT 'promise', id FROM promise
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing)
            UNION ALL
            SELECT 'condition', id FROM condition
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing)
            UNION ALL
            SELECT 'photograph', id FROM photograph
            WHERE coil = (SELECT rid FROM coil WHERE id = :thing))sql"},
        {"instrument", R"sql(
            SELECT 'reading' AS thing_table, id FROM reading
            WHERE instrument = (SELECT rid FROM instrument WHERE id = :thing)
            UNION ALL
            SELECT 'instrument_check', id FROM instrument_check
            WHERE instrument = (SELECT rid FROM instrument WHERE id = :thing)
            UNION ALL
            SELECT 'coating_check', id FROM coating_check
            WHERE instrument = (SELECT rid FROM instrument WHERE id = :thing))sql"},
        {"reading", R"sql(
            SELECT 'reading' AS thing_table, later.id
            FROM reading AS r JOIN reading AS later ON later.supersedes = r.rid
            WHERE r.id = :thing
            UNION ALL
            SELECT 'reading', later.id FROM reading AS r
            JOIN reading AS later ON later.coil = r.coil AND later.field = r.field
            WHERE r.id = :thing AND r.field <> 'diameters')sql"},
        {"reference_class", R"sql(
            SELECT 'confirmation' AS thing_table, id FROM confirmation
            WHERE class = (SELECT rid FROM reference_class WHERE name = :thing))sql"},
        {"verdict", R"sql(
            SELECT 'confirmation' AS thing_table, id FROM confirmation
            WHERE verdict = (SELECT rid FROM verdict WHERE id = :thing))sql"},
        {"confirmation", R"sql(
            SELECT 'confirmation' AS thing_table, later.id
            FROM confirmation AS w JOIN confirmation AS later ON later.coil = w.coil
            WHERE w.id = :thing)sql"},
        {"instrument_check", nothing},
        {"coating_check", nothing},
        {"rig", R"sql(
            SELECT 'handover' AS thing_table, id FROM handover
            WHERE (SELECT rid FROM rig WHERE id = :thing) IN (rig, in_rig)
            UNION ALL
            SELECT 'promise', id FROM promise
            WHERE rig = (SELECT rid FROM rig WHERE id = :thing))sql"},
        {"boat", R"sql(
            SELECT 'outing' AS thing_table, id FROM outing
            WHERE boat = (SELECT rid FROM boat WHERE id = :thing)
            UNION ALL
            SELECT 'handover', id FROM handover
            WHERE boat = (SELECT rid FROM boat WHERE id = :thing))sql"},
        {"client", R"sql(
            SELECT 'outing' AS thing_table, id FROM outing
            WHERE client = (SELECT rid FROM client WHERE id = :thing)
            UNION ALL
            SELECT 'handover', id FROM handover
            WHERE client = (SELECT rid FROM client WHERE id = :thing))sql"},
        {"outing", R"sql(
            SELECT 'promise' AS thing_table, id FROM promise
            WHERE outing = (SELECT rid FROM outing WHERE id = :thing))sql"},
        {"promise", nothing},
        {"handover", R"sql(
            SELECT 'handover' AS thing_table, later.id
            FROM handover AS h
            JOIN handover AS later ON later.coil IS h.coil AND later.rig IS h.rig
            WHERE h.id = :thing)sql"},
        {"condition", R"sql(
            SELECT 'condition' AS thing_table, later.id
            FROM condition AS n
            JOIN condition AS later ON later.coil = n.coil AND later.what = n.what
            WHERE n.id = :thing)sql"},
        {"photograph", R"sql(
            SELECT 'photograph' AS thing_table, later.id
            FROM photograph AS p JOIN photograph AS later ON later.puts_away = p.rid
            WHERE p.id = :thing)sql"},
    }};
    std::map<std::string, db::Statement, std::less<>> statements;
    for (const auto& [table, sql] : things) {
        statements.emplace(table, db::Statement(database, last_act_making(sql)));
    }
    return statements;
}

std::map<std::string, db::Statement, std::less<>> restoring(const db::Database& database) {
    std::map<std::string, db::Statement, std::less<>> statements;
    for (const auto& table : changing_tables) {
        statements.emplace(std::string(table.name), db::Statement(database, restoring_sql(table)));
    }
    return statements;
}

std::optional<std::int64_t> optional_rid(const db::Row& row) {
    return row.optional_integer("rid");
}

[[noreturn]] void fail_history(const std::string& thing) {
    throw Error("the catalogue does not hold what its history says of " + coilbook::quoted(thing) +
                "; 'coilbook check' looks for the damage");
}

tl::unexpected<Problem> in_the_way(const HistoryEntry& wanted, const HistoryEntry& later) {
    return problem("act",
                   fmt::format("{} cannot be undone: {} came later, on {}, and builds on it",
                               coilbook::quoted(wanted.note.what, 200),
                               coilbook::quoted(later.note.what, 200), to_text(later.note.at)),
                   fmt::format("undo that first: {}", later.note.id.text()));
}

}  // namespace

Undoing::Undoing(const db::Database& database)
    : database_(database),
      find_(database, R"sql(
          SELECT * FROM act_entry AS a WHERE a.id = :id)sql"),
      find_at_(database, R"sql(
          SELECT * FROM act_entry AS a WHERE a.rid = :rid)sql"),
      find_rid_(database, "SELECT rid FROM act WHERE id = :id"),
      last_done_(database, R"sql(
          SELECT id FROM act_state
          WHERE state = 'done' AND rid IS NOT (SELECT act FROM open_act)
          ORDER BY rid DESC LIMIT 1)sql"),
      trail_(database, R"sql(
          SELECT u.act AS rid, u.undoes, undone.id AS undone_id,
                 EXISTS (SELECT 1 FROM undo AS first WHERE first.act = u.undoes) AS is_redo
          FROM undo AS u JOIN act AS undone ON undone.rid = u.undoes
          WHERE u.act > coalesce((SELECT a.rid FROM act AS a
                                  WHERE NOT EXISTS (SELECT 1 FROM undo WHERE undo.act = a.rid)
                                    AND a.rid IS NOT (SELECT act FROM open_act)
                                  ORDER BY a.rid DESC LIMIT 1), 0)
          ORDER BY u.act)sql"),
      undone_by_(database, R"sql(
          SELECT max(u.act) AS rid FROM undo AS u WHERE u.undoes = :act)sql"),
      changes_(database, R"sql(
          SELECT thing_table, thing, field, was, became FROM change WHERE act = :act
          ORDER BY rid)sql"),
      any_later_(database, R"sql(
          SELECT rid FROM act_state
          WHERE rid > :act AND state = 'done' AND rid IS NOT (SELECT act FROM open_act)
          LIMIT 1)sql"),
      standing_before_(database, R"sql(
          SELECT c.act, c.became
          FROM field_change AS c JOIN act_state AS a ON a.rid = c.act
          WHERE c.thing = :thing AND c.thing_table = :thing_table AND c.field = :field
            AND c.act < :act AND a.state = 'done'
          ORDER BY c.rid DESC LIMIT 1)sql"),
      last_change_(database, R"sql(
          SELECT act, became FROM field_change
          WHERE thing = :thing AND thing_table = :thing_table AND field = :field
          ORDER BY rid DESC LIMIT 1)sql"),
      other_birth_(database, R"sql(
          SELECT c.act AS rid
          FROM change AS c JOIN act_state AS a ON a.rid = c.act
          WHERE c.thing = :thing AND c.thing_table = :thing_table AND c.field = :field
            AND c.act <> :act AND (a.state = 'done' OR :in_any_state) LIMIT 1)sql"),
      later_change_(database, R"sql(
          SELECT max(a.rid) AS rid
          FROM change AS c JOIN act_state AS a ON a.rid = c.act
          WHERE c.thing = :thing AND c.thing_table = :thing_table AND c.act > :act
            AND a.state = 'done' AND (:any_field OR c.field = :field))sql"),
      hangs_on_(hanging_on(database)),
      restore_(restoring(database)),
      other_with_code_(database, R"sql(
          SELECT other.id
          FROM coil AS this
          JOIN coil AS other ON other.code = iif(:set_code, :code, this.code)
                            AND other.rid <> this.rid
                            AND other.retired_at_utc IS NULL AND other.is_undone = 0
          WHERE this.id = :thing
            AND iif(:set_retired_at_utc, :retired_at_utc, this.retired_at_utc) IS NULL
            AND iif(:set_is_undone, :is_undone, this.is_undone) = 0)sql"),
      was_pruned_(database, "SELECT act AS rid FROM pruned_act WHERE act = :act"),
      was_salvaged_(database, "SELECT rid FROM setting WHERE name = 'salvaged'"),
      setting_(database, "SELECT value FROM setting WHERE name = :name"),
      put_setting_(database, R"sql(
          INSERT INTO setting (name, value) VALUES (:name, :value)
          ON CONFLICT (name) DO UPDATE SET value = excluded.value)sql"),
      drop_setting_(database, "DELETE FROM setting WHERE name = :name"),
      insert_(database,
              "INSERT INTO undo (act, undoes) VALUES ((SELECT act FROM open_act), "
              ":undoes)") {}

std::optional<HistoryEntry> Undoing::entry_of(const Id<Act>& id) {
    return find_.bind(":id", id.text()).first(history_entry_from);
}

std::int64_t Undoing::rid_of(const Id<Act>& id) {
    const auto rid = find_rid_.bind(":id", id.text()).first([](const db::Row& row) {
        return row.integer("rid");
    });
    if (!rid) throw Error("the history has no act " + id.text());
    return *rid;
}

std::optional<HistoryEntry> Undoing::next_undo() {
    const auto last = last_done_.first([](const db::Row& row) { return id_at<Act>(row, "id"); });
    return last ? entry_of(*last) : std::nullopt;
}

std::optional<HistoryEntry> Undoing::next_redo() {
    struct Undone {
        std::int64_t by;
        Id<Act> id;
    };
    std::vector<Undone> stack;
    for (auto rows = trail_.rows(); rows.next();) {
        const auto& row = rows.row();
        if (flag_at(row, "is_redo")) {
            std::erase_if(stack,
                          [&](const Undone& each) { return each.by == row.integer("undoes"); });
        } else {
            stack.push_back({row.integer("rid"), id_at<Act>(row, "undone_id")});
        }
    }
    return stack.empty() ? std::nullopt : entry_of(stack.back().id);
}

bool Undoing::is_loss(const Step& step) {
    return std::ranges::any_of(step.fields, [&](const Field& field) {
        return is_birth(step.table, field.name) &&
               !std::holds_alternative<std::monostate>(field.was);
    });
}

bool Undoing::is_salvage(const Step& step) {
    return step.table == "setting" && (step.thing == "salvaged" || step.thing == "pruned");
}

bool Undoing::is_about_a_person(const Step& step) {
    return step.table == "client" && std::ranges::any_of(step.fields, [](const Field& field) {
               return field.name == "forgotten_at_utc" ||
                      (field.name == "told_at_utc" &&
                       !std::holds_alternative<std::monostate>(field.was));
           });
}

std::vector<Undoing::Step> Undoing::steps_of(std::int64_t act) {
    std::vector<Step> steps;
    std::ptrdiff_t last_place = -1;
    changes_.bind(":act", act);
    for (auto rows = changes_.rows(); rows.next();) {
        const auto& row = rows.row();
        const auto table = row.text("thing_table");
        const auto thing = row.text("thing");
        Field field{row.text("field"), row.value("was"), row.value("became")};
        // Fields that one statement changed stand together and in the order of the columns.
        std::ptrdiff_t place = -1;
        if (const auto* known = table_named(table); known && !is_birth(table, field.name)) {
            place = std::ranges::find(known->columns, field.name) - known->columns.begin();
        }
        const bool goes_on = !steps.empty() && steps.back().table == table &&
                             steps.back().thing == thing && place > last_place;
        if (!goes_on) steps.push_back({table, thing, {}});
        steps.back().fields.push_back(std::move(field));
        last_place = place;
    }
    return steps;
}

// Whether the step brought in a thing that another act has brought in as well, as when a table is
// taken to two laptops. While one of them stands, the thing does.
bool Undoing::came_in_twice(std::int64_t act, const Step& step, bool in_any_state) {
    const auto& first = step.fields.front();
    if (!is_birth(step.table, first.name) || std::holds_alternative<std::monostate>(first.became)) {
        return false;
    }
    return other_birth_.bind(":thing", step.thing)
        .bind(":thing_table", step.table)
        .bind(":field", first.name)
        .bind(":act", act)
        .bind(":in_any_state", in_any_state)
        .first(optional_rid)
        .has_value();
}

std::optional<std::int64_t> Undoing::obstacle_to(std::int64_t act, const std::vector<Step>& steps) {
    if (!any_later_.bind(":act", act).first(optional_rid)) return std::nullopt;
    std::optional<std::int64_t> latest;
    const auto consider = [&](std::optional<std::optional<std::int64_t>> found) {
        if (found && *found) latest = std::max(latest.value_or(0), **found);
    };
    for (const auto& step : steps) {
        if (came_in_twice(act, step)) continue;
        for (const auto& field : step.fields) {
            // Whether the thing will count no longer when this is taken back.
            const bool ends =
                is_birth(step.table, field.name) ||
                (field.name == "is_undone" && field.was == db::Value{std::int64_t{1}});
            consider(later_change_.bind(":thing", step.thing)
                         .bind(":thing_table", step.table)
                         .bind(":act", act)
                         .bind(":any_field", ends)
                         .bind(":field", field.name)
                         .first(optional_rid));
            if (!ends) continue;
            const auto hangs = hangs_on_.find(step.table);
            if (hangs == hangs_on_.end()) fail_history(step.thing);
            consider(
                hangs->second.bind(":act", act).bind(":thing", step.thing).first(optional_rid));
        }
    }
    return latest;
}

std::optional<HistoryEntry> Undoing::obstacle(const Id<Act>& target) {
    const auto rid = rid_of(target);
    const auto later = obstacle_to(rid, steps_of(rid));
    if (!later) return std::nullopt;
    return find_at_.bind(":rid", *later).first(history_entry_from);
}

Result<void> Undoing::undo(Act& act, const Id<Act>& target) {
    const auto entry = entry_of(target);
    if (!entry) {
        return problem("act", "the history has no act " + target.text(),
                       "an id that 'coilbook history' shows");
    }
    const auto shown = coilbook::quoted(entry->note.what, 200);
    switch (entry->state) {
        case ActState::undone:
            return problem("act", shown + " has been undone already", "an act that stands");
        case ActState::undo:
        case ActState::redo:
            return problem("act", shown + " only took another act back or did it again",
                           "'coilbook redo' after an undo, or the id of the act itself");
        case ActState::done:
            break;
    }
    const auto steps = steps_of(rid_of(target));
    if (std::ranges::any_of(steps, is_loss) || std::ranges::any_of(steps, is_salvage)) {
        return problem("act", shown + " tells of what was lost, which no undo brings back",
                       "a backup of before");
    }
    if (std::ranges::any_of(steps, is_about_a_person)) {
        return problem(
            "act", shown + " is about what a client is called, of which no history is kept",
            "telling it anew (who was forgotten stays forgotten); what was done before it "
            "can be undone by its id");
    }
    if (const auto later = obstacle(target)) return in_the_way(*entry, *later);
    return take_back(act, rid_of(target));
}

Result<void> Undoing::redo(Act& act, const Id<Act>& target) {
    const auto next = next_redo();
    if (!next || next->note.id != target) {
        return problem("act", "there is nothing to do again: something new was done since",
                       "a redo right after an undo");
    }
    const auto by = undone_by_.bind(":act", rid_of(target)).first(optional_rid);
    if (!by || !*by) fail_history(target.text());
    if (auto done = take_back(act, **by); !done) return done;
    return bring_back_what_came_twice(act, rid_of(target));
}

// Of things that another act brought in as well, what that one's end took with it.
Result<void> Undoing::bring_back_what_came_twice(Act& act, std::int64_t target) {
    for (const auto& step : steps_of(target)) {
        if (!came_in_twice(target, step, true)) continue;
        const auto ended = last_change_.bind(":thing", step.thing)
                               .bind(":thing_table", step.table)
                               .bind(":field", "is_undone")
                               .first([](const db::Row& row) {
                                   return row.value("became") == db::Value{std::int64_t{1}};
                               });
        if (!ended.value_or(false)) continue;
        const Step back{step.table, step.thing, {{"is_undone", std::int64_t{0}, std::int64_t{1}}}};
        if (auto done = take_back(act, target, back); !done) return done;
    }
    return {};
}

tl::unexpected<Problem> Undoing::problem_of_code(std::int64_t undone, const std::string& coil) {
    const auto later = later_change_.bind(":thing", coil)
                           .bind(":thing_table", "coil")
                           .bind(":act", undone)
                           .bind(":any_field", true)
                           .bind(":field", "code")
                           .first(optional_rid);
    if (!later || !*later) {  // what stood in the way was undone itself, and its code given away
        return problem("code", "this would give two coils the same code",
                       "another code for the coil that has it now");
    }
    const auto wanted = find_at_.bind(":rid", undone).first(history_entry_from);
    const auto by = find_at_.bind(":rid", **later).first(history_entry_from);
    return in_the_way(*wanted, *by);
}

db::Value Undoing::value_before(std::int64_t act, const Step& step, const Field& field) {
    struct Standing {
        std::int64_t act;
        db::Value value;
    };
    const auto standing = standing_before_.bind(":thing", step.thing)
                              .bind(":thing_table", step.table)
                              .bind(":field", field.name)
                              .bind(":act", act)
                              .first([](const db::Row& row) {
                                  return Standing{row.integer("act"), row.value("became")};
                              });
    if (!standing || standing->value == field.was) return field.was;
    return Lineage(database_).are_apart(standing->act, act) ? standing->value : field.was;
}

tl::unexpected<Problem> Undoing::changed_since(std::int64_t act, const Step& step) {
    for (const auto& field : step.fields) {
        const auto last = last_change_.bind(":thing", step.thing)
                              .bind(":thing_table", step.table)
                              .bind(":field", field.name)
                              .first([&](const db::Row& row) {
                                  const bool is_other = row.value("became") != field.became;
                                  return is_other ? row.integer("act") : 0;
                              });
        if (!last || *last == 0) continue;
        const auto wanted = find_at_.bind(":rid", act).first(history_entry_from);
        const auto by = find_at_.bind(":rid", *last).first(history_entry_from);
        return problem("act",
                       fmt::format("{} cannot be undone: the {} was changed since by {}, on {}",
                                   coilbook::quoted(wanted->note.what, 200), field.name,
                                   coilbook::quoted(by->note.what, 200), to_text(by->note.at)),
                       "a change of the thing itself, as you want it");
    }
    fail_history(step.thing);
}

void Undoing::look_up_what_was(std::int64_t undone, std::vector<Step>& steps) {
    std::erase_if(steps, [&](const Step& step) { return came_in_twice(undone, step); });
    // Once for each field, at the first change of it: what came after stays as it was done.
    std::set<std::tuple<std::string, std::string, std::string>> looked_up;
    for (auto& step : steps) {
        for (auto& field : step.fields) {
            if (is_birth(step.table, field.name)) continue;
            if (looked_up.emplace(step.table, step.thing, field.name).second) {
                field.was = value_before(undone, step, field);
            }
        }
    }
}

Result<void> Undoing::take_back(Act& act, std::int64_t undone) {
    if (was_pruned_.bind(":act", undone).first(optional_rid)) {
        const auto entry = find_at_.bind(":rid", undone).first(history_entry_from);
        return problem("act",
                       fmt::format("of what {} did something was pruned, and is gone for good",
                                   coilbook::quoted(entry->note.what, 200)),
                       "the backup that was made before pruning");
    }
    auto steps = steps_of(undone);
    if (!find_at_.bind(":rid", undone).first(history_entry_from)->undoes) {
        look_up_what_was(undone, steps);
    }
    std::ranges::reverse(steps);
    for (const auto& step : steps) {
        if (const auto done = take_back(act, undone, step); !done) return done;
    }
    insert_.bind(":undoes", undone).run(act.transaction());
    return {};
}

Result<void> Undoing::take_back(Act& act, std::int64_t undone, const Step& step) {
    if (step.table == "setting") {
        for (const auto& field : step.fields) {
            const auto now = setting_.bind(":name", step.thing).first([](const db::Row& row) {
                return row.value("value");
            });
            const bool stands =
                now ? *now == field.became : std::holds_alternative<std::monostate>(field.became);
            if (!stands) return changed_since(undone, step);
            if (std::holds_alternative<std::monostate>(field.was)) {
                drop_setting_.bind(":name", step.thing).run(act.transaction());
            } else {
                put_setting_.bind(":name", step.thing)
                    .bind(":value", field.was)
                    .run(act.transaction());
            }
        }
        return {};
    }
    const auto* table = table_named(step.table);
    if (table == nullptr) fail_history(step.thing);
    std::map<std::string_view, Field> changed;
    const Field ended{"is_undone", std::int64_t{1}, std::int64_t{0}};
    if (is_birth(step.table, step.fields.front().name)) {
        changed.emplace("is_undone", ended);
    } else {
        for (const auto& field : step.fields) changed.emplace(field.name, field);
    }
    const auto bind = [&](db::Statement& statement, std::string_view column, bool with_guard) {
        const auto found = changed.find(column);
        const bool is_set = found != changed.end();
        const std::string name(column);
        statement.bind(":set_" + name, is_set);
        statement.bind(":" + name, is_set ? found->second.was : db::Value{});
        if (with_guard)
            statement.bind(":from_" + name, is_set ? found->second.became : db::Value{});
    };
    if (step.table == "coil") {
        for (const auto column : {"code", "retired_at_utc", "is_undone"}) {
            bind(other_with_code_, column, false);
        }
        const auto other =
            other_with_code_.bind(":thing", step.thing).first([](const db::Row& row) {
                return row.text("id");
            });
        if (other) return problem_of_code(undone, *other);
    }
    auto& restore = restore_.find(step.table)->second;
    restore.bind(":thing", step.thing);
    for (const auto column : table->columns) bind(restore, column, true);
    try {
        if (restore.run(act.transaction()) != 1 && !came_in_twice(undone, step, true)) {
            return changed_since(undone, step);
        }
    } catch (const Error&) {
        // The disk's failures end the transaction; what is left is a value that cannot be.
        if (!act.transaction().is_open() || !was_salvaged_.first(optional_rid)) throw;
        return problem("act",
                       "what " + coilbook::quoted(step.thing) +
                           " was before was lost, and a salvage could not bring it back",
                       "a change of the thing itself, as you want it");
    }
    return {};
}

}  // namespace coilbook::store
