#include "store/seals.h"

#include "db/transaction.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"
#include "store/schema.h"
#include "support/catalogue.h"
#include "support/database.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

// A catalogue with a coil, a reading and a word on it; then its tables without the door.
db::Database written_by_hand(const TemporaryFolder& folder) {
    const auto file = folder / "a.coilbook";
    {
        auto catalogue = Catalogue::create(file);
        put_library(catalogue, small_library());
        const auto coil = a_coil("A7");
        in_an_act(catalogue, [&](Act& act) { (void)catalogue.coils().add(act, coil); });
        in_an_act(catalogue, [&](Act& act) {
            (void)catalogue.readings().add(
                act, {.id = next_id<Reading>(),
                      .coil = coil.id,
                      .field = ReadingField::sample_weight,
                      .as_written = "22.4 gr",
                      .value = read_values(ReadingField::sample_weight, "22.4 gr").value().front(),
                      .instrument = "",
                      .taken_at = moment(5),
                      .supersedes = {}});
        });
        in_an_act(catalogue, [&](Act& act) {
            (void)catalogue.confirmations().add(act, confirmed(coil, "T-11"));
        });
        CHECK(catalogue.seals().broken().empty());
        CHECK(catalogue.seals().last_broken().empty());
    }
    return db::Database::open(
        file, {.application_id = 0x436F426B, .newest_version = 99, .name = "catalogue"});
}

// Drops the triggers that stop careless hands, and runs `sql` as somebody with another tool could.
void edit(db::Database& database, const std::string& sql) {
    db::Statement list(database, "SELECT name FROM sqlite_schema WHERE type = 'trigger'");
    std::string script;
    for (const auto& name : list.all([](const db::Row& row) { return row.text("name"); })) {
        script += "DROP TRIGGER " + name + ";";
    }
    db::run_script(database, script + sql);
}

}  // namespace

TEST_SUITE("Seals") {
    TEST_CASE("every act has a seal") {
        const TemporaryFolder folder;
        const auto database = written_by_hand(folder);
        CHECK(db::number(database, "SELECT count(*) AS n FROM act") == 4);
        CHECK(db::number(database, "SELECT count(*) AS n FROM seal") == 4);
        CHECK(db::number(database, "SELECT count(DISTINCT sha256) AS n FROM seal") == 4);
    }

    TEST_CASE("whatever an act wrote, changed behind its back, breaks its seal and no other") {
        for (const std::string sql :
             {"UPDATE act SET who = 'somebody else' WHERE rid = 3",
              "UPDATE act SET at_utc = '2026-11-25T09:00:00.001Z' WHERE rid = 3",
              "UPDATE change SET became = 'x' WHERE act = 3",
              "UPDATE change SET field = 'is_undone' WHERE act = 3",
              "DELETE FROM change WHERE act = 3",
              "UPDATE reading SET value_si = value_si * (1 + 1e-15)",
              "UPDATE reading SET as_written = '22.5 gr'",
              "UPDATE reading SET taken_at_utc = '2026-11-25T09:00:00.000Z'",
              "UPDATE reading SET standard_uncertainty_si = 0.0",
              "INSERT INTO undo (act, undoes) VALUES (3, 2)"}) {
            CAPTURE(sql);
            const TemporaryFolder folder;
            auto database = written_by_hand(folder);
            edit(database, sql);
            Seals seals(database);
            const auto broken = seals.broken();
            REQUIRE(broken.size() == 1);
            db::Statement third(database, "SELECT id FROM act WHERE rid = 3");
            CHECK(broken.front().act ==
                  third.first([](const db::Row& row) { return row.text("id"); }));
            CHECK(seals.last_broken().empty());  // a later act
        }
    }

    TEST_CASE("the last act is looked at quickly, too") {
        const TemporaryFolder folder;
        auto database = written_by_hand(folder);
        edit(database, "UPDATE confirmation SET note = 'never said'");
        Seals seals(database);
        REQUIRE(seals.last_broken().size() == 1);
        says(seals.last_broken().front().what_is_wrong, "is not what it was");
        CHECK(seals.last_broken(0).empty());  // longer than it may look
    }

    TEST_CASE("an act that is taken out, or put in without a seal, is noticed") {
        const TemporaryFolder folder;
        auto database = written_by_hand(folder);
        edit(database,
             "DELETE FROM seal WHERE act = 2; DELETE FROM change WHERE act = 2;"
             "DELETE FROM reading; DELETE FROM confirmation; DELETE FROM coil;"
             "DELETE FROM seen WHERE 2 IN (act, seen); DELETE FROM act WHERE rid = 2;");
        CHECK(Seals(database).broken().size() >= 1);
        edit(database,
             "INSERT INTO act (id, at_utc, who, program, what, why) VALUES "
             "('01J0000000000000000000000A', '2026-11-25T09:00:00.000Z', '', '', 'test', '');");
        says(Seals(database).last_broken().front().what_is_wrong, "has no seal");
    }

    TEST_CASE("the same acts have the same seals, whatever the numbers of their rows") {
        const TemporaryFolder folder;
        auto database = written_by_hand(folder);
        edit(database,
             "UPDATE reading SET rid = rid + 100; UPDATE change SET rid = rid + 1000;"
             "UPDATE confirmation SET rid = 70;");
        CHECK(Seals(database).broken().empty());
    }
}
