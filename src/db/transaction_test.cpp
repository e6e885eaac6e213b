#include "db/transaction.h"

#include "db/connection.h"
#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;

namespace {

Database shelf_in_memory() {
    auto shelf = Database::in_memory(shelf_kind());
    run_script(shelf,
               "CREATE TABLE thing (code TEXT NOT NULL UNIQUE) STRICT;"
               "CREATE TABLE part (thing TEXT NOT NULL REFERENCES thing (code)) STRICT;");
    return shelf;
}

std::int64_t things(const Database& shelf) {
    return number(shelf, "SELECT count(*) AS n FROM thing");
}

}  // namespace

TEST_SUITE("Transactions") {
    TEST_CASE("what is committed stays, what is not is gone") {
        auto shelf = shelf_in_memory();
        {
            Transaction transaction(shelf);
            transaction.run_script("INSERT INTO thing VALUES ('A1')");
            transaction.commit();
        }
        {
            Transaction transaction(shelf);
            transaction.run_script("INSERT INTO thing VALUES ('A2')");
            CHECK(things(shelf) == 2);
        }
        CHECK(things(shelf) == 1);
    }

    TEST_CASE("an exception rolls everything back, and the next transaction works") {
        auto shelf = shelf_in_memory();
        CHECK_THROWS_AS(
            [&] {
                Transaction transaction(shelf);
                transaction.run_script("INSERT INTO thing VALUES ('A1')");
                throw Error("the scale fell into the river");
            }(),
            Error);
        CHECK(things(shelf) == 0);
        run_script(shelf, "INSERT INTO thing VALUES ('A2')");
        CHECK(things(shelf) == 1);
    }

    TEST_CASE("a transaction does not nest, and the outer one goes on") {
        auto shelf = shelf_in_memory();
        Transaction outer(shelf);
        outer.run_script("INSERT INTO thing VALUES ('A1')");
        says(error_of([&] { Transaction inner(shelf); }), "inside another");
        outer.commit();
        CHECK(things(shelf) == 1);
    }

    TEST_CASE("a transaction is committed once") {
        auto shelf = shelf_in_memory();
        Transaction transaction(shelf);
        transaction.commit();
        CHECK_FALSE(transaction.is_open());
        says(error_of([&] { transaction.commit(); }), "is over");
        says(error_of([&] { transaction.run_script("DELETE FROM thing"); }), "is over");
    }

    // Else what follows would be committed by itself, statement by statement.
    TEST_CASE("when SQLite itself has rolled back, nothing more can be written or committed") {
        auto shelf = shelf_in_memory();
        run_script(shelf, "INSERT INTO thing VALUES ('A1')");
        Statement add(shelf, "INSERT INTO thing VALUES (:code)");
        Statement add_or_roll_back(shelf, "INSERT OR ROLLBACK INTO thing VALUES (:code)");
        Transaction transaction(shelf);
        add.bind(":code", "A2").run(transaction);
        says(error_of([&] { add_or_roll_back.bind(":code", "A1").run(transaction); }),
             "UNIQUE constraint failed");
        CHECK_FALSE(transaction.is_open());
        says(error_of([&] { add.bind(":code", "A3").run(transaction); }), "is over");
        says(error_of([&] { transaction.commit(); }), "nothing was saved");
        CHECK(things(shelf) == 1);
    }

    TEST_CASE("a row cannot point to one that is not there") {
        auto shelf = shelf_in_memory();
        says(error_of([&] { run_script(shelf, "INSERT INTO part VALUES ('A1')"); }),
             "FOREIGN KEY constraint failed");
    }

    TEST_CASE("when the disk is full, the message says so and nothing is half-written") {
        const TemporaryFolder folder;
        auto shelf = Database::create(folder / "a.shelf", shelf_kind());
        run_script(shelf, "CREATE TABLE thing (code TEXT NOT NULL) STRICT");
        shelf.connection()->command("PRAGMA max_page_count = 4");
        Statement add(shelf, "INSERT INTO thing VALUES (:code)");
        const auto said = error_of([&] {
            Transaction transaction(shelf);
            add.bind(":code", "small").run(transaction);
            add.bind(":code", std::string(100'000, 'x')).run(transaction);
            transaction.commit();
        });
        says(said, "running 'INSERT INTO thing VALUES (:code)': the disk is full; make room");
        CHECK(things(shelf) == 0);
        shelf.connection()->command("PRAGMA max_page_count = 1000");
        Transaction transaction(shelf);
        add.bind(":code", "small").run(transaction);
        transaction.commit();
        CHECK(things(shelf) == 1);
    }

    TEST_CASE("a second writer waits its turn and says who holds it up") {
        const TemporaryFolder folder;
        auto first = Database::create(folder / "a.shelf", shelf_kind());
        auto second = Database::open(folder / "a.shelf", shelf_kind());
        second.connection()->command("PRAGMA busy_timeout = 20");
        Transaction writing(first);
        says(error_of([&] { Transaction waiting(second); }), "is being written by another program");
        writing.commit();
        CHECK(error_of([&] { Transaction next(second); }) == "");
    }
}

TEST_SUITE("Snapshots") {
    TEST_CASE("while it lives, one moment is read; afterwards the next") {
        const TemporaryFolder folder;
        auto mine = Database::create(folder / "a.shelf", shelf_kind());
        run_script(mine, "CREATE TABLE thing (code TEXT NOT NULL) STRICT");
        auto other = Database::open(folder / "a.shelf", shelf_kind());
        {
            const Snapshot snapshot(mine);
            CHECK(things(mine) == 0);
            run_script(other, "INSERT INTO thing VALUES ('A1')");
            CHECK(things(mine) == 0);
        }
        CHECK(things(mine) == 1);
    }

    TEST_CASE("inside a transaction it does nothing, and the transaction can still be committed") {
        auto shelf = shelf_in_memory();
        Transaction transaction(shelf);
        transaction.run_script("INSERT INTO thing VALUES ('A1')");
        { const Snapshot snapshot(shelf); }
        transaction.commit();
        CHECK(things(shelf) == 1);
    }
}
