#include "store/settling.h"

#include <fmt/format.h>

#include "store/changing_tables.h"

namespace coilbook::store {
namespace {

void withdraw(const db::Database& database, Act& act, const std::string& reading,
              const std::string& id) {
    db::Statement(database, R"sql(
        INSERT INTO reading (id, coil, field, as_written, taken_at_utc, supersedes)
        SELECT :id, coil, field, '', :at_utc, rid FROM reading WHERE id = :reading)sql")
        .bind(":id", id)
        .bind(":at_utc", to_text(act.note().at))
        .bind(":reading", reading)
        .run(act.transaction());
}

void say_again(const db::Database& database, Act& act, const std::string& confirmation,
               const std::string& id) {
    db::Statement(database, R"sql(
        INSERT INTO confirmation (id, coil, class, verdict, said_by, at_utc, note)
        SELECT :id, coil, class, verdict, :who, :at_utc, note FROM confirmation
        WHERE id = :confirmation)sql")
        .bind(":id", id)
        .bind(":who", act.note().who)
        .bind(":at_utc", to_text(act.note().at))
        .bind(":confirmation", confirmation)
        .run(act.transaction());
}

// Without a `role` in the one that it had, if any.
void hand_again(const db::Database& database, Act& act, const std::string& handover,
                const std::string& id, std::optional<std::string_view> role = {}) {
    db::Statement(database, R"sql(
        INSERT INTO handover (id, coil, rig, place, boat, in_rig, role, client, at_utc, by_whom,
                              note, turn)
        SELECT :id, coil, rig, place, boat, in_rig, coalesce(:role, role), client, :at_utc, :who,
               note, (SELECT count(*) FROM handover AS o
                WHERE o.is_undone = 0 AND (o.coil = h.coil OR o.rig = h.rig))
        FROM handover AS h WHERE id = :handover)sql")
        .bind(":id", id)
        .bind(":who", act.note().who)
        .bind(":at_utc", to_text(act.note().at))
        .bind(":handover", handover)
        .bind(":role", role)
        .run(act.transaction());
}

void give_code(const db::Database& database, Act& act, const std::string& table,
               const std::string& thing, const std::string& code) {
    db::Statement(database,
                  fmt::format("UPDATE {} SET {} = :code WHERE id = :thing",
                              table_named(table)->name, table == "boat" ? "name" : "code"))
        .bind(":code", code)
        .bind(":thing", thing)
        .run(act.transaction());
}

}  // namespace

Settling::Settling(const db::Database& database) : database_(database) {}

void Settling::set_setting(Act& act, const Conflict& conflict, const db::Value& value) {
    if (std::holds_alternative<std::monostate>(value)) {
        db::Statement(database_, "DELETE FROM setting WHERE name = :name")
            .bind(":name", conflict.thing)
            .run(act.transaction());
        return;
    }
    db::Statement(database_, R"sql(
        INSERT INTO setting (name, value) VALUES (:name, :value)
        ON CONFLICT (name) DO UPDATE SET value = excluded.value)sql")
        .bind(":name", conflict.thing)
        .bind(":value", value)
        .run(act.transaction());
}

void Settling::set_field(Act& act, const Conflict& conflict, const db::Value& value) {
    const auto* table = table_named(conflict.table);
    if (table == nullptr) {
        set_setting(act, conflict, value);
    } else {
        db::Statement(database_, fmt::format("UPDATE {} SET {} = :value WHERE {} = :thing",
                                             table->name, conflict.field, table->key))
            .bind(":value", value)
            .bind(":thing", conflict.thing)
            .run(act.transaction());
    }
    // Where it stood already, the triggers saw no change; the history is to know of the choice.
    db::Statement(database_, R"sql(
        INSERT INTO change (act, thing_table, thing, field, was, became)
        SELECT open_act.act, :thing_table, :thing, :field, :value, :value FROM open_act
        WHERE NOT EXISTS (SELECT 1 FROM change AS c
                          WHERE c.act = open_act.act AND c.thing = :thing
                            AND c.thing_table = :thing_table AND c.field = :field))sql")
        .bind(":thing_table", conflict.table)
        .bind(":thing", conflict.thing)
        .bind(":field", conflict.field)
        .bind(":value", value)
        .run(act.transaction());
}

Result<std::vector<Recoded>> Settling::settle(Act& act, const Conflict& conflict,
                                              std::size_t choice, const SettlingMeans& means) {
    if (choice >= conflict.choices.size()) {
        return problem("choice", "there is no such choice",
                       fmt::format("a number from 1 to {}", conflict.choices.size()));
    }
    const auto& chosen = conflict.choices[choice];
    std::vector<Recoded> recoded;
    switch (conflict.kind) {
        case ConflictKind::field:
        case ConflictKind::ended:
            set_field(act, conflict, chosen.value);
            break;
        case ConflictKind::reading:
            for (const auto& other : conflict.choices) {
                if (other == chosen) continue;
                withdraw(database_, act, other.thing, means.new_id());
            }
            break;
        case ConflictKind::confirmation:
            say_again(database_, act, chosen.thing, means.new_id());
            break;
        case ConflictKind::place:
            hand_again(database_, act, chosen.thing, means.new_id());
            break;
        case ConflictKind::tip:
            for (const auto& each : conflict.choices) {
                const auto role = each == chosen ? "tip" : "wallet";
                hand_again(database_, act, each.thing, means.new_id(), role);
            }
            break;
        case ConflictKind::code:
            for (const auto& other : conflict.choices) {
                if (other == chosen) continue;
                const auto& table = std::get<std::string>(other.value);
                const auto code = means.new_code(table, conflict.thing);
                give_code(database_, act, table, other.thing, code);
                recoded.push_back({table, conflict.thing, code});
            }
            break;
    }
    return recoded;
}

}  // namespace coilbook::store
