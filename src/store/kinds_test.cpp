#include "store/kinds.h"

#include <algorithm>

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
        run(R"sql(
            INSERT INTO act (id, at_utc, who, program, what, why)
            VALUES ('01J0000000000000000000000A', '2026-11-25T09:00:00.000Z', '', '', 'test', '');
            INSERT INTO open_act VALUES (1, 1))sql");
    }
    void run(const char* sql) {
        db::Transaction transaction(database);
        transaction.run_script(sql);
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

const char* const a_coil_before = R"sql(
    INSERT INTO coil (id, code, notes, made_at_utc)
    VALUES ('01J0000000000000000000000A', 'A6', '', '2026-11-25T09:00:00.000Z'))sql";
const char* const two_readings = R"sql(
    INSERT INTO reading (id, coil, field, as_written, value_si, value_text, taken_at_utc)
    VALUES ('01J0000000000000000000000B', 1, 'sample_weight', '1 g', 0.001, NULL,
            '2026-11-25T09:00:00.000Z'),
           ('01J0000000000000000000000C', 1, 'tint', 'dark', NULL, 'dark',
            '2026-11-25T09:00:00.001Z'))sql";
const char* const two_coils = R"sql(
    INSERT INTO coil (id, code, notes, made_at_utc, retired_at_utc)
    VALUES ('01J0000000000000000000000B', 'A7', 'of the shop', '2026-11-25T09:00:00.000Z', NULL),
           ('01J0000000000000000000000C', 'A8', '', '2026-11-25T09:00:00.001Z',
            '2026-11-25T09:00:00.002Z'))sql";

}  // namespace

TEST_SUITE("Kinds of things in masses") {
    TEST_CASE("their history is written as the triggers write it for one at a time") {
        for (const auto& [kind, row] :
             {std::pair{"coils", two_coils}, {"readings", two_readings}}) {
            CAPTURE(std::string(kind));
            OpenTables by_triggers;
            OpenTables in_masses;
            for (auto* each : {&by_triggers, &in_masses}) each->run(a_coil_before);
            by_triggers.run(row);
            const auto& masses = kind_named(kind).value()->in_masses.value();
            const auto before = in_masses.history().size();
            db::Statement last(in_masses.database, masses.last_rid);
            const auto rid = last.first([](const db::Row& each) { return each.integer("rid"); });
            db::Transaction transaction(in_masses.database);
            {
                const db::GuardsAside aside(transaction, db::Guards::triggers);
                transaction.run_script(row);
                CHECK(in_masses.history().size() == before);
                db::Statement history(in_masses.database, masses.history);
                CHECK(history.bind(":last_rid", *rid).run(transaction) == 2);
            }
            CHECK(in_masses.history() == by_triggers.history());
            CHECK(in_masses.history().size() == before + 2);
        }
    }

    TEST_CASE("no trigger but that one would fire, or it is forgotten here") {
        const OpenTables tables;
        for (const auto& [kind, table] : {std::pair{"coils", "coil"}, {"readings", "reading"}}) {
            db::Statement all(tables.database, R"sql(
                SELECT name FROM sqlite_schema
                WHERE type = 'trigger' AND tbl_name = :table
                  AND sql LIKE '%INSERT ON ' || :table || '%')sql");
            const auto names =
                all.bind(":table", table).all([](const db::Row& row) { return row.text("name"); });
            CHECK(names == std::vector<std::string>{std::string(table) + "_made"});
            CHECK(kind_named(kind).value()->in_masses.has_value());
        }
        CHECK(std::ranges::count_if(
                  all_kinds(), [](const Kind& kind) { return kind.in_masses.has_value(); }) == 2);
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
