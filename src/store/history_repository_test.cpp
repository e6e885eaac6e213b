#include "store/history_repository.h"

#include "db/statement.h"
#include "db/transaction.h"
#include "store/coil_repository.h"
#include "store/confirmation_repository.h"
#include "store/reading_repository.h"
#include "store/schema.h"
#include "support/catalogue.h"
#include "support/library.h"

using namespace coilbook;
using namespace coilbook::store;

TEST_SUITE("History") {
    TEST_CASE("an act is remembered with who, what, why and when, and every field it changed") {
        auto catalogue = Catalogue::in_memory();
        auto coil = a_coil("A7");
        auto note = note_for("write down A7");
        note.why = "found in the old bag";
        REQUIRE(catalogue.act(note, [&](Act& act) { return catalogue.coils().add(act, coil); })
                    .has_value());
        coil.code = "A8";
        const auto second = note_for("rename A7 to A8");
        REQUIRE(catalogue.act(second, [&](Act& act) { return catalogue.coils().change(act, coil); })
                    .has_value());
        const auto entries = catalogue.history().list();
        REQUIRE(entries.size() == 2);
        CHECK(entries[0] == HistoryEntry{.note = second, .changes = 1});
        CHECK(entries[1] == HistoryEntry{.note = note, .changes = 4});
        CHECK(catalogue.history().list({.limit = 1, .offset = 1}).front().note == note);
        CHECK(catalogue.history().changes_of(second.id) ==
              std::vector<FieldChange>{{.table = "coil",
                                        .thing = coil.id.text(),
                                        .field = "code",
                                        .was = std::string("A7"),
                                        .became = std::string("A8")}});
        CHECK(catalogue.history().of_thing(coil.id.text()) == entries);
        CHECK(catalogue.history().of_thing("nothing").empty());
    }

    TEST_CASE("an act that fails or changes nothing leaves no entry") {
        auto catalogue = Catalogue::in_memory();
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().add(act, a_coil("A7"));
                }).has_value());
        CHECK_FALSE(in_an_act(catalogue, [&](Act& act) {
                        return catalogue.coils().add(act, a_coil("A7"));
                    }).has_value());
        in_an_act(catalogue, [](Act&) {});
        const auto same = *catalogue.coils().by_code("A7");
        REQUIRE(in_an_act(catalogue, [&](Act& act) {
                    return catalogue.coils().change(act, same);
                }).has_value());
        CHECK(catalogue.history().list().size() == 1);
    }
}

namespace {

// A catalogue's tables without the door: what somebody with another tool could try.
struct Tables {
    db::Database database =
        db::Database::in_memory({.application_id = 1, .newest_version = 1, .name = "catalogue"});

    Tables() {
        db::migrate(database, schema_steps());
        run("INSERT INTO act (id, at_utc, who, program, what, why) VALUES "
            "('01J0000000000000000000000A', '2026-11-25T09:00:00.000Z', '', '', 'test', '');"
            "INSERT INTO open_act VALUES (1, 1);"
            "INSERT INTO coil (id, code, notes, made_at_utc) VALUES "
            "('01J0000000000000000000000A', 'A7', '', '2026-11-25T09:00:00.000Z'),"
            "('01J0000000000000000000000B', 'A8', '', '2026-11-25T09:00:00.000Z');"
            "INSERT INTO reading (id, coil, field, as_written, value_si, taken_at_utc) VALUES "
            "('01J0000000000000000000000A', 1, 'sample_weight', '1 g', 0.001, "
            "'2026-11-25T09:00:00.000Z');"
            "INSERT INTO reference_class VALUES (1, 'T-11', 1, 0, NULL, NULL, NULL, NULL, 1, 2.4, "
            "0.1, 1.4, 0.1, 0, 0.5, 0, 0, 0, 0, 1, NULL, NULL, '', 0);"
            "INSERT INTO verdict VALUES (1, '01J0000000000000000000000A', 1, "
            "'2026-11-25T09:00:00.000Z', 'T-11', 1, '', 1, '', 1, '', 1, '', 1, 0, '', '', 0);"
            "INSERT INTO confirmation VALUES (1, '01J0000000000000000000000A', 1, 1, 1, '', "
            "'2026-11-25T09:00:00.000Z', '', 0);"
            "INSERT INTO instrument VALUES (1, '01J0000000000000000000000A', 'scale', 'S1', 0, 0, "
            "0, 0, 0, 0);");
    }
    void run(const std::string& sql) {
        db::Transaction transaction(database);
        transaction.run_script(sql);
        transaction.commit();
    }
    std::string refusal(const std::string& sql) {
        return error_of([&] { run(sql); });
    }
};

}  // namespace

TEST_SUITE("What the tables themselves refuse") {
    TEST_CASE("what only grows is neither changed nor deleted nor replaced") {
        Tables tables;
        tables.run(
            "INSERT INTO act (id, at_utc, who, program, what, why) VALUES "
            "('01J0000000000000000000000B', '2026-11-25T09:00:00.000Z', '', '', 'u', '');"
            "INSERT INTO undo VALUES (2, 1); INSERT INTO seal VALUES (1, '" +
            std::string(64, '0') + "');");
        for (const std::string table :
             {"change", "reading", "verdict", "confirmation", "undo", "seal", "act"}) {
            CAPTURE(table);
            const std::string key = table == "undo" || table == "seal" ? "act" : "rid";
            says(tables.refusal("UPDATE " + table + " SET " + key + " = " + key), "never changed");
            says(tables.refusal("DELETE FROM " + table), "is never");
        }
        for (const std::string table : {"coil", "instrument", "reference_class"}) {
            CAPTURE(table);
            says(tables.refusal("DELETE FROM " + table), "is never deleted");
            says(tables.refusal("UPDATE " + table + " SET rid = 7"), "is never changed");
        }
        says(tables.refusal("INSERT OR REPLACE INTO reading SELECT * FROM reading"),
             "a reading is never deleted");
        says(tables.refusal("INSERT OR REPLACE INTO coil SELECT * FROM coil"),
             "a coil is never deleted");
    }

    TEST_CASE("nothing is written outside an act") {
        Tables tables;
        tables.run("DELETE FROM open_act");
        for (const std::string sql :
             {"UPDATE coil SET notes = 'changed'", "UPDATE instrument SET offset_si = 1",
              "UPDATE reference_class SET basis = 'changed'",
              "INSERT INTO setting (name, value) VALUES ('a', 'b')",
              "INSERT INTO reading (id, coil, field, as_written, value_si, taken_at_utc) VALUES "
              "('01J0000000000000000000000C', 1, 'diameters', '1 mm', 0.001, "
              "'2026-11-25T09:00:00.000Z')",
              "INSERT INTO confirmation SELECT 2, '01J0000000000000000000000C', coil, class, "
              "verdict, said_by, at_utc, note, 0 FROM confirmation",
              "INSERT INTO coil (id, code, notes, made_at_utc) VALUES "
              "('01J0000000000000000000000C', 'A9', '', '2026-11-25T09:00:00.000Z')"}) {
            CAPTURE(sql);
            says(tables.refusal(sql), "NOT NULL constraint failed: change.act");
        }
    }

    TEST_CASE("every column of what can change is written into the history") {
        struct Row {
            std::string table;
            std::vector<std::pair<std::string, std::string>> columns;  // and a new value in SQL
        };
        const std::vector<Row> rows{
            {"coil",
             {{"is_undone", "1"},
              {"code", "'B1'"},
              {"notes", "'changed'"},
              {"made_at_utc", "'2026-11-25T10:00:00.000Z'"},
              {"retired_at_utc", "'2026-11-25T10:00:00.000Z'"}}},
            {"instrument",
             {{"is_undone", "1"},
              {"kind", "'tape'"},
              {"code", "'T1'"},
              {"resolution_si", "1.5"},
              {"limit_of_error_si", "1.5"},
              {"repeatability_si", "1.5"},
              {"offset_si", "1.5"},
              {"offset_uncertainty_si", "1.5"}}},
            {"reference_class",
             {{"is_undone", "1"},
              {"position", "7"},
              {"is_retired", "1"},
              {"family", "'level line'"},
              {"grain_class", "'T-11'"},
              {"density_grade", "'type 6'"},
              {"line_size", "'8'"},
              {"weight", "0.25"},
              {"ln_grains_per_foot_mean", "0.25"},
              {"ln_grains_per_foot_sd", "0.25"},
              {"ln_density_mean", "0.25"},
              {"ln_density_sd", "0.25"},
              {"correlation", "0.25"},
              {"tapered", "0.25"},
              {"tint_clear", "0.25"},
              {"tint_pale", "0.25"},
              {"tint_brown", "0.25"},
              {"tint_dark", "0.25"},
              {"tint_black", "0.25"},
              {"usual_lengths_m", "'3.048'"},
              {"usual_relative_sd", "0.25"},
              {"basis", "'changed'"}}},
        };
        for (const auto& [table, columns] : rows) {
            CAPTURE(table);
            Tables tables;
            // All but rid and what the thing is called: so a new column cannot be forgotten here.
            db::Statement all(tables.database, "SELECT * FROM " + table);
            CHECK(all.column_count() == static_cast<int>(columns.size()) + 2);
            std::string sql = "UPDATE " + table + " SET ";
            for (const auto& [column, value] : columns) {
                sql += (sql.ends_with("SET ") ? "" : ", ") + column + " = " + value;
            }
            db::Statement last(tables.database, "SELECT max(rid) AS n FROM change");
            const auto before = last.first([](const db::Row& row) { return row.integer("n"); });
            tables.run(sql + " WHERE rid = 1");
            db::Statement list(tables.database, R"sql(
                SELECT field FROM change WHERE rid > :before ORDER BY rid)sql");
            const auto found = list.bind(":before", *before).all([](const db::Row& row) {
                return row.text("field");
            });
            REQUIRE(found.size() == columns.size());
            for (std::size_t at = 0; at < columns.size(); ++at) {
                CHECK(found[at] == columns[at].first);
                // What the history says a field became is what the table now holds.
                db::Statement same(tables.database,
                                   "SELECT 1 AS n FROM " + table + " AS t, change AS c " +
                                       "WHERE t.rid = 1 AND c.rid > :before AND c.field = '" +
                                       columns[at].first + "' AND c.became IS t." +
                                       columns[at].first + " AND c.was IS NOT c.became");
                CHECK(same.bind(":before", *before)
                          .first([](const db::Row&) { return true; })
                          .has_value());
            }
        }
    }

    TEST_CASE("nothing points to what is not there, or to another coil's") {
        Tables tables;
        const std::string reading =
            "INSERT INTO reading (id, coil, field, as_written, value_si, taken_at_utc, supersedes) "
            "VALUES ('01J0000000000000000000000C', ";
        const std::string rest = ", '1 g', 0.001, '2026-11-25T09:00:00.000Z', ";
        says(tables.refusal(reading + "9, 'sample_weight'" + rest + "NULL)"), "FOREIGN KEY");
        says(tables.refusal(reading + "2, 'sample_weight'" + rest + "1)"), "FOREIGN KEY");
        says(tables.refusal(reading + "1, 'whole_weight'" + rest + "1)"), "FOREIGN KEY");
        CHECK(tables.refusal(reading + "1, 'sample_weight'" + rest + "1)") == "");
        says(tables.refusal("INSERT INTO confirmation SELECT 2, '01J0000000000000000000000C', 2, "
                            "class, verdict, said_by, at_utc, note, 0 FROM confirmation"),
             "FOREIGN KEY");
        says(tables.refusal("INSERT INTO confirmation SELECT 2, '01J0000000000000000000000C', 1, "
                            "9, verdict, said_by, at_utc, note, 0 FROM confirmation"),
             "FOREIGN KEY");
    }

    TEST_CASE("values of the wrong kind are refused") {
        Tables tables;
        const std::string reading =
            "INSERT INTO reading (id, coil, field, as_written, value_si, value_text, taken_at_utc)"
            " VALUES ('01J0000000000000000000000C', 1, ";
        const std::string at = ", '2026-11-25T09:00:00.000Z')";
        says(tables.refusal(reading + "'tint', '', 0.5, NULL" + at), "CHECK");
        says(tables.refusal(reading + "'whole_weight', '', NULL, 'dark'" + at), "CHECK");
        says(tables.refusal(reading + "'whole_weight', '', NULL, NULL" + at), "CHECK");
        says(tables.refusal(reading + "'whole_weight', '', 0.0, NULL" + at), "CHECK");
        says(tables.refusal(reading + "'whole_weight', '', 11.0, NULL" + at), "CHECK");
        says(tables.refusal(reading + "'diameters', '', 0.026, NULL" + at), "CHECK");
        says(tables.refusal(reading + "'water_temperature', '', 10.0, NULL" + at), "CHECK");
        says(tables.refusal(reading + "'tint', '', NULL, 'green'" + at), "CHECK");
        says(tables.refusal(reading + "'colour', '', NULL, 'dark'" + at), "CHECK");
        says(tables.refusal(reading + "'whole_weight', '', 'heavy', NULL" + at),
             "cannot store TEXT value in REAL column");
        says(tables.refusal(reading + "'tint', '', NULL, 'dark', 'yesterday')"), "CHECK");
        says(tables.refusal("INSERT INTO coil (id, code, notes, made_at_utc) VALUES "
                            "('not an id', 'A9', '', '2026-11-25T09:00:00.000Z')"),
             "CHECK");
    }
}
