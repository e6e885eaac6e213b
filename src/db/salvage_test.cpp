#include "db/salvage.h"

#include <array>

#include "db/table_list.h"
#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;
namespace fs = std::filesystem;

namespace {

constexpr std::array<std::string_view, 2> tables{"thing", "part"};

constexpr auto schema =
    "CREATE TABLE thing (rid INTEGER PRIMARY KEY, code TEXT NOT NULL CHECK (code <> '')) STRICT;"
    "CREATE TABLE part (rid INTEGER PRIMARY KEY, thing INTEGER NOT NULL REFERENCES thing (rid),"
    " filling TEXT NOT NULL) STRICT;"
    "CREATE TRIGGER part_stays BEFORE DELETE ON part BEGIN SELECT RAISE (ABORT, 'stays'); END;";

// A shelf of 40 things with ten parts each, which take several pages.
fs::path full_shelf(const TemporaryFolder& folder) {
    auto shelf = Database::create(folder / "a.shelf", shelf_kind());
    run_script(shelf, std::string(schema) +
                          "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n "
                          "WHERE i < 40) INSERT INTO thing SELECT i, 'T' || i FROM n;"
                          "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n "
                          "WHERE i < 400) INSERT INTO part SELECT i, (i + 9) / 10, "
                          "hex(zeroblob(100)) FROM n;");
    return shelf.file();
}

Database empty_shelf(const TemporaryFolder& folder) {
    auto shelf = Database::create(folder / "new.shelf", shelf_kind());
    run_script(shelf, schema);
    return shelf;
}

// The pages of a b-tree of that root that are leaves of a table: their first byte is 13.
// Source: SQLite's fileformat2.html, 1.6.
std::vector<std::size_t> leaves(const std::string& bytes) {
    std::vector<std::size_t> found;
    for (std::size_t at = 4096; at < bytes.size(); at += 4096) {
        if (bytes[at] == 13) found.push_back(at);
    }
    return found;
}

}  // namespace

TEST_SUITE("Salvage") {
    TEST_CASE("of a whole file everything comes over, with its row numbers") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        const auto damaged = Database::open_damaged(file, shelf_kind());
        auto into = empty_shelf(folder);
        const auto told = salvage(damaged, into, tables);
        CHECK(told == std::vector<SalvagedTable>{{.table = "thing", .rows = 40},
                                                 {.table = "part", .rows = 400}});
        CHECK(number(into, "SELECT sum(thing) AS n FROM part") == 8200);
        CHECK(into.damage().empty());
        // Triggers and foreign keys are there again.
        says(error_of([&] { run_script(into, "DELETE FROM part"); }), "stays");
        says(error_of([&] { run_script(into, "INSERT INTO part VALUES (999, 99, '')"); }),
             "FOREIGN KEY");
    }

    TEST_CASE("a lost page costs its rows and no other, and the file stays as it was") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        auto bytes = bytes_of(file);
        const auto pages = leaves(bytes);
        REQUIRE(pages.size() > 10);
        bytes.replace(pages[6], 4096, 4096, '\xEE');  // one of the parts, in their middle
        write_bytes(file, bytes);
        CHECK_THROWS_AS((void)Database::open(file, shelf_kind()), Damage);
        {
            const auto damaged = Database::open_damaged(file, shelf_kind());
            auto into = empty_shelf(folder);
            const auto told = salvage(damaged, into, tables);
            CHECK(told[0].rows == 40);
            CHECK(told[1].gaps > 0);
            CHECK(told[1].rows > 360);  // about 18 parts lie on a page
            CHECK(told[1].rows < 400);
            CHECK(number(into, "SELECT count(*) AS n FROM part") == told[1].rows);
            CHECK(into.damage().empty());
        }
        CHECK(bytes_of(file) == bytes);
    }

    TEST_CASE("what hangs on a lost row is left out, and counted") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        auto bytes = bytes_of(file);
        const auto at = bytes.find("T7");
        REQUIRE(at != std::string::npos);
        bytes[at] = '\xFF';  // no longer text
        write_bytes(file, bytes);
        const auto damaged = Database::open_damaged(file, shelf_kind());
        auto into = empty_shelf(folder);
        const auto told = salvage(damaged, into, tables);
        CHECK(told == std::vector<SalvagedTable>{{.table = "thing", .rows = 39, .refused = 1},
                                                 {.table = "part", .rows = 390, .dangling = 10}});
    }

    TEST_CASE("a file without its first page cannot be read at all, and says so") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        auto bytes = bytes_of(file);
        bytes.replace(0, 4096, 4096, '\0');
        write_bytes(file, bytes);
        auto into = empty_shelf(folder);
        says(error_of([&] {
                 const auto damaged = Database::open_damaged(file, shelf_kind());
                 (void)salvage(damaged, into, tables);
             }),
             "is not a database that this program can read");
    }

    TEST_CASE("a lost list of tables is made anew from what the rows look like") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        auto bytes = bytes_of(file);
        bytes.replace(100, 3996, 3996, '\xEE');  // the list, behind the file's head
        write_bytes(file, bytes);
        const auto damaged = Database::open_damaged(file, shelf_kind());
        CHECK_FALSE(has_table_list(damaged));
        auto into = empty_shelf(folder);
        CHECK(has_table_list(into));
        {
            const Relisted relisted(damaged, into, folder / "copy");
            CHECK(salvage(relisted.database(), into, tables) ==
                  std::vector<SalvagedTable>{{.table = "thing", .rows = 40},
                                             {.table = "part", .rows = 400}});
            CHECK(fs::status(folder / "copy").permissions() ==
                  (fs::perms::owner_read | fs::perms::owner_write));
        }
        CHECK(number(into, "SELECT sum(thing) AS n FROM part") == 8200);
        CHECK_FALSE(fs::exists(folder / "copy"));
        CHECK(bytes_of(file) == bytes);
    }

    TEST_CASE("a tree that lost its list and its root comes over in parts") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        auto bytes = bytes_of(file);
        bytes.replace(100, 3996, 3996, '\xEE');
        for (std::size_t at = 4096; at < bytes.size(); at += 4096) {
            if (bytes[at] == 5) bytes[at] = '\xEE';
        }
        write_bytes(file, bytes);
        const auto damaged = Database::open_damaged(file, shelf_kind());
        auto into = empty_shelf(folder);
        const Relisted relisted(damaged, into, folder / "copy");
        const auto told = salvage(relisted.database(), into, tables);
        CHECK(told[0].rows == 40);
        CHECK(told[1].rows == 400);
        CHECK(told[1].gaps > 10);  // where the parts may once have had more between them
    }

    TEST_CASE("a view in the place of a table is not read") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        {
            auto shelf = Database::open(file, shelf_kind());
            run_script(shelf,
                       "DROP TRIGGER part_stays; DROP TABLE part; CREATE VIEW part (rid, thing, "
                       "filling) AS WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM "
                       "n) SELECT i, 1, 'for ever' FROM n");
        }
        const auto damaged = Database::open_damaged(file, shelf_kind());
        auto into = empty_shelf(folder);
        const auto told = salvage(damaged, into, tables);
        CHECK(told[0].rows == 40);
        CHECK(told[1].rows == 0);
    }

    TEST_CASE("nothing is written through a file opened as damaged") {
        const TemporaryFolder folder;
        const auto file = full_shelf(folder);
        auto damaged = Database::open_damaged(file, shelf_kind());
        says(error_of([&] { run_script(damaged, "DELETE FROM thing"); }),
             "was opened for reading only");
    }
}
