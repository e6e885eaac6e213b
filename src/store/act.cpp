#include "store/act.h"

#include <utility>

#include "db/statement.h"
#include "store/seals.h"

namespace coilbook::store {

Act::Act(db::Database& database, Seals& seals, ActNote note)
    : database_(database), seals_(seals), note_(std::move(note)), transaction_(database) {
    db::Statement add(database_, R"sql(
        INSERT INTO act (id, at_utc, who, program, what, why, laptop, seal_form, clock_ms)
        VALUES (:id, :at_utc, :who, :program, :what, :why, :laptop, 2,
                max(:at_ms, coalesce((SELECT clock_ms + 1 FROM act ORDER BY rid DESC LIMIT 1),
                                     0))))sql");
    add.bind(":id", note_.id.text())
        .bind(":at_utc", to_text(note_.at))
        .bind(":who", note_.who)
        .bind(":program", note_.program)
        .bind(":what", note_.what)
        .bind(":why", note_.why)
        .bind(":laptop", note_.laptop)
        .bind(":at_ms", std::int64_t{note_.at.time_since_epoch().count()})
        .run(transaction_);
    db::Statement open(database_, R"sql(
        INSERT INTO open_act (one, act) SELECT 1, rid FROM act WHERE id = :id)sql");
    open.bind(":id", note_.id.text()).run(transaction_);
}

void Act::finish() {
    db::Statement any(database_, R"sql(
        SELECT 1 AS found FROM open_act
        WHERE EXISTS (SELECT 1 FROM change WHERE change.act = open_act.act)
           OR EXISTS (SELECT 1 FROM undo WHERE undo.act = open_act.act))sql");
    const bool changed_something = any.first([](const db::Row&) { return true; }).has_value();
    if (!changed_something) return;
    for (const auto* step :
         {"INSERT INTO seen (act, seen) SELECT open_act.act, head.act FROM open_act, head",
          "DELETE FROM head", "INSERT INTO head (act) SELECT act FROM open_act",
          "DELETE FROM open_act"}) {
        db::Statement(database_, step).run(transaction_);
    }
    seals_.seal(transaction_);
    transaction_.commit();
}

}  // namespace coilbook::store
