#include "store/act.h"

#include <utility>

#include "db/statement.h"
#include "store/seals.h"

namespace coilbook::store {

Act::Act(db::Database& database, Seals& seals, ActNote note)
    : database_(database), seals_(seals), note_(std::move(note)), transaction_(database) {
    db::Statement add(database_, R"sql(
        INSERT INTO act (id, at_utc, who, program, what, why)
        VALUES (:id, :at_utc, :who, :program, :what, :why))sql");
    add.bind(":id", note_.id.text())
        .bind(":at_utc", to_text(note_.at))
        .bind(":who", note_.who)
        .bind(":program", note_.program)
        .bind(":what", note_.what)
        .bind(":why", note_.why)
        .run(transaction_);
    db::Statement open(database_, R"sql(
        INSERT INTO open_act (one, act) SELECT 1, rid FROM act WHERE id = :id)sql");
    open.bind(":id", note_.id.text()).run(transaction_);
}

void Act::finish() {
    db::Statement any(database_, R"sql(
        SELECT 1 AS found FROM change WHERE act = (SELECT act FROM open_act) LIMIT 1)sql");
    const bool changed_something = any.first([](const db::Row&) { return true; }).has_value();
    if (!changed_something) return;
    db::Statement close(database_, "DELETE FROM open_act");
    close.run(transaction_);
    seals_.seal(transaction_);
    transaction_.commit();
}

}  // namespace coilbook::store
