#include "db/migration.h"

#include <array>
#include <thread>

#include "db/connection.h"
#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;
namespace fs = std::filesystem;

namespace {

constexpr std::array<Migration, 3> steps{{
    {1, "things", "CREATE TABLE thing (code TEXT NOT NULL UNIQUE) STRICT;"},
    {2, "parts",
     "CREATE TABLE part (thing TEXT NOT NULL REFERENCES thing (code), kg REAL NOT NULL) STRICT;"},
    // Rebuilds a table that others point to, which needs the foreign keys off meanwhile.
    {3, "notes",
     "CREATE TABLE new_thing (code TEXT NOT NULL UNIQUE, note TEXT) STRICT;"
     "INSERT INTO new_thing (code) SELECT code FROM thing;"
     "DROP TABLE thing; ALTER TABLE new_thing RENAME TO thing;"},
}};
const std::span<const Migration> all_steps{steps};

std::string schema_of(const Database& shelf) {
    Statement list(shelf, "SELECT name, coalesce(sql, '') AS sql FROM sqlite_schema ORDER BY name");
    std::string text;
    for (auto rows = list.rows(); rows.next();) {
        text += rows.row().text("name") + ": " + rows.row().text("sql") + "\n";
    }
    return text;
}

// A shelf of version 2 with a thing and a part of it.
Database old_shelf(const TemporaryFolder& folder) {
    auto shelf = Database::create(folder / "a.shelf", shelf_kind());
    migrate(shelf, all_steps.first(2));
    run_script(shelf, "INSERT INTO thing VALUES ('A1'); INSERT INTO part VALUES ('A1', 0.1);");
    return shelf;
}

}  // namespace

TEST_SUITE("Migrations") {
    TEST_CASE("a new file gets all steps, and no copy is made of nothing") {
        const TemporaryFolder folder;
        auto shelf = Database::create(folder / "a.shelf", shelf_kind());
        const auto done = migrate(shelf, all_steps);
        CHECK(done.from == 0);
        CHECK(done.to == 3);
        CHECK_FALSE(done.backup.has_value());
        CHECK(shelf.version() == 3);
        CHECK(migrate(shelf, all_steps).from == 3);
    }

    TEST_CASE("every older version ends as a new file does, with its rows as they were") {
        auto fresh = Database::in_memory(shelf_kind());
        migrate(fresh, all_steps);
        for (const std::size_t from : {0U, 1U, 2U}) {
            CAPTURE(from);
            auto shelf = Database::in_memory(shelf_kind());
            migrate(shelf, all_steps.first(from));
            if (from >= 1) run_script(shelf, "INSERT INTO thing (code) VALUES ('A1')");
            migrate(shelf, all_steps);
            CHECK(shelf.version() == 3);
            CHECK(schema_of(shelf) == schema_of(fresh));
            CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == (from >= 1 ? 1 : 0));
        }
    }

    TEST_CASE("a file that holds anything is copied first") {
        const TemporaryFolder folder;
        auto shelf = old_shelf(folder);
        const auto done = migrate(shelf, all_steps);
        REQUIRE(done.backup == folder / "a.shelf.v2.bak");
        const auto copy = Database::open(*done.backup, shelf_kind());
        CHECK(copy.version() == 2);
        CHECK(number(copy, "SELECT count(*) AS n FROM part") == 1);
        CHECK(fs::status(*done.backup).permissions() ==
              (fs::perms::owner_read | fs::perms::owner_write));
        CHECK(shelf.version() == 3);
        CHECK(number(shelf, "SELECT count(*) AS n FROM part WHERE kg = 0.1") == 1);
    }

    TEST_CASE("a step that fails leaves version, tables and rows as they were, and the copy") {
        const TemporaryFolder folder;
        auto shelf = old_shelf(folder);
        const auto before = schema_of(shelf);
        auto broken = steps;
        broken[2].sql = "DELETE FROM part; CREATE TABLE extra (a TEXT) STRICT; SELECT nonsense;";
        const auto said = error_of([&] { migrate(shelf, broken); });
        says(said, "bringing '");
        says(said, "step 3 (notes): running 'DELETE FROM part;");
        says(said, "no such column: nonsense");
        CHECK(shelf.version() == 2);
        CHECK(schema_of(shelf) == before);
        CHECK(number(shelf, "SELECT count(*) AS n FROM part") == 1);
        CHECK(fs::exists(folder / "a.shelf.v2.bak"));
        CHECK(number(shelf, "SELECT foreign_keys AS n FROM pragma_foreign_keys") == 1);
        CHECK(migrate(shelf, all_steps).to == 3);  // and with a sound step it works
    }

    TEST_CASE("a step that leaves rows pointing to nothing is undone") {
        auto shelf = Database::in_memory(shelf_kind());
        migrate(shelf, all_steps.first(2));
        run_script(shelf, "INSERT INTO thing VALUES ('A1'); INSERT INTO part VALUES ('A1', 1);");
        auto broken = steps;
        broken[2].sql = "DELETE FROM thing;";
        says(error_of([&] { migrate(shelf, broken); }),
             "a row of part would point to one that is not there");
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 1);
        CHECK(shelf.version() == 2);
    }

    TEST_CASE("a step cannot end the transaction that guards it") {
        auto shelf = Database::in_memory(shelf_kind());
        const std::array<Migration, 1> bad{{{1, "bad", "CREATE TABLE a (b TEXT); COMMIT;"}}};
        says(error_of([&] { migrate(shelf, bad); }), "not authorized");
        CHECK(schema_of(shelf).empty());
    }

    TEST_CASE("a file that is newer than the last step is left alone") {
        auto shelf = Database::in_memory(shelf_kind());
        migrate(shelf, all_steps);
        says(error_of([&] { migrate(shelf, all_steps.first(1)); }),
             "newer version of this program (format 3, this one knows up to 1)");
        CHECK(shelf.version() == 3);
    }

    TEST_CASE("a file with a trigger, a table or a column of somebody else's is refused") {
        for (const std::string sql :
             {"CREATE TRIGGER t AFTER INSERT ON part BEGIN DELETE FROM thing; END",
              "CREATE TABLE extra (a TEXT) STRICT", "ALTER TABLE part ADD COLUMN b TEXT",
              "DROP TABLE part"}) {
            CAPTURE(sql);
            auto shelf = Database::in_memory(shelf_kind());
            migrate(shelf, all_steps.first(2));
            run_script(shelf, sql);
            const auto before = schema_of(shelf);
            says(error_of([&] { migrate(shelf, all_steps); }),
                 "does not have the tables of a shelf of format 2 (t");
            says(error_of([&] { migrate(shelf, all_steps.first(2)); }), "another program");
            CHECK(schema_of(shelf) == before);
        }
        auto shelf = Database::in_memory(shelf_kind());
        migrate(shelf, all_steps);
        run_script(shelf, "ANALYZE");
        CHECK(migrate(shelf, all_steps).to == 3);
    }

    TEST_CASE("two programs that start at once: the second finds it done") {
        const TemporaryFolder folder;
        { const auto closed = old_shelf(folder); }
        std::array<Migrated, 2> done;
        std::array<std::string, 2> failed;
        {
            auto first = Database::open(folder / "a.shelf", shelf_kind());
            auto second = Database::open(folder / "a.shelf", shelf_kind());
            const auto migrate_one = [&](Database& shelf, std::size_t which) {
                failed[which] = error_of([&] { done[which] = migrate(shelf, all_steps); });
            };
            std::thread other([&] { migrate_one(second, 1); });
            migrate_one(first, 0);
            other.join();
        }
        CHECK(failed[0] == "");
        CHECK(failed[1] == "");
        CHECK(done[0].to == 3);
        CHECK(done[1].to == 3);
        CHECK(done[0].backup.has_value() != done[1].backup.has_value());
        const auto shelf = Database::open(folder / "a.shelf", shelf_kind());
        CHECK(number(shelf, "SELECT count(*) AS n FROM part") == 1);
    }

    TEST_CASE("where the copy cannot be made, nothing is changed") {
        const TemporaryFolder folder;
        auto shelf = old_shelf(folder);
        fs::create_directory(folder / "a.shelf.v2.bak");
        write_bytes(folder / "a.shelf.v2.bak" / "in the way", "");
        says(error_of([&] { migrate(shelf, all_steps); }), "backing up '");
        CHECK(shelf.version() == 2);
    }
}
