#include "store/kinds.h"

#include "db/guards_aside.h"
#include "db/migration.h"
#include "store/audit.h"
#include "store/history_repository.h"
#include "store/schema.h"
#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

// A catalogue's tables with an act that is going on.
struct OpenTables {
    db::Database database =
        db::Database::in_memory({.application_id = 1, .newest_version = 1, .name = "catalogue"});

    OpenTables() {
        db::migrate(database, schema_steps());
        db::Transaction transaction(database);
        transaction.run_script(R"sql(
            INSERT INTO act (id, at_utc, who, program, what, why)
            VALUES ('01J0000000000000000000000A', '2026-11-25T09:00:00.000Z', '', '', 'test', '');
            INSERT INTO open_act VALUES (1, 1))sql");
        transaction.commit();
    }

    // Everything that stands in `change`, in words.
    [[nodiscard]] std::vector<std::string> history() const {
        db::Statement all(database, R"sql(
            SELECT act || thing_table || thing || field || quote(was) || quote(became)
                   || quote(told_code) || quote(told_notes) || quote(told_made_at_utc)
                   || quote(told_retired_at_utc) AS words
            FROM change ORDER BY rid)sql");
        return all.all([](const db::Row& row) { return row.text("words"); });
    }
};

const char* const two_coils = R"sql(
    INSERT INTO coil (id, code, notes, made_at_utc, retired_at_utc)
    VALUES ('01J0000000000000000000000B', 'A7', 'of the shop', '2026-11-25T09:00:00.000Z', NULL),
           ('01J0000000000000000000000C', 'A8', '', '2026-11-25T09:00:00.001Z',
            '2026-11-25T09:00:00.002Z'))sql";

}  // namespace

TEST_SUITE("Kinds of things in masses") {
    TEST_CASE("their history is written as the triggers write it for one at a time") {
        OpenTables by_triggers;
        OpenTables in_masses;
        {
            db::Transaction transaction(by_triggers.database);
            transaction.run_script(two_coils);
            transaction.commit();
        }
        const auto& masses = kind_named("coils").value()->in_masses.value();
        db::Transaction transaction(in_masses.database);
        {
            const db::GuardsAside aside(transaction);
            transaction.run_script(two_coils);
            CHECK(in_masses.history().empty());
            db::Statement history(in_masses.database, masses.history);
            CHECK(history.bind(":last_rid", 0).run(transaction) == 2);
        }
        CHECK(in_masses.history() == by_triggers.history());
        CHECK(in_masses.history().size() == 2);
    }

    TEST_CASE("no trigger but that one would fire, or it is forgotten here") {
        const OpenTables tables;
        db::Statement all(tables.database, R"sql(
            SELECT name FROM sqlite_schema
            WHERE type = 'trigger' AND tbl_name = 'coil' AND sql LIKE '%INSERT ON coil%')sql");
        const auto names = all.all([](const db::Row& row) { return row.text("name"); });
        CHECK(names == std::vector<std::string>{"coil_made"});
        for (const auto& kind : all_kinds()) {
            CAPTURE(kind.name);
            CHECK(kind.in_masses.has_value() == (kind.name == "coils"));
        }
    }

    TEST_CASE("what is refused among many leaves those before it, and only those are told") {
        auto catalogue = Catalogue::in_memory();
        std::vector<KindRow> rows;
        for (int n = 0; n < 2500; ++n) {
            rows.push_back({next_id<Coil>().text(), "M" + std::to_string(n), std::string(),
                            to_text(moment()), db::Value{}});
        }
        rows[2100][0] = rows[10][0];  // an id that is there
        std::size_t are_in = 0;
        in_an_act(catalogue, [&](Act& act) {
            are_in = catalogue.table_of(**kind_named("coils")).insert_all(act, rows);
        });
        CHECK(are_in == 2000);
        const auto entries = catalogue.history().list();
        REQUIRE(entries.size() == 1);
        CHECK(entries.front().changes == 2000 * 4);
        for (const auto& inspection : catalogue.audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
    }
}
