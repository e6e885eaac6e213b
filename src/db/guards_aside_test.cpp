#include "db/guards_aside.h"

#include "base/broken_off.h"
#include "db/connection.h"
#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;

namespace {

Database shelf_in_memory() {
    auto shelf = Database::in_memory(shelf_kind());
    run_script(shelf,
               "CREATE TABLE box (code TEXT NOT NULL UNIQUE) STRICT;"
               "CREATE TABLE thing (code TEXT NOT NULL UNIQUE CHECK (code <> 'bad'),"
               "                    box TEXT REFERENCES box (code)) STRICT;"
               "CREATE TABLE told (code TEXT NOT NULL) STRICT;"
               "CREATE TRIGGER thing_made AFTER INSERT ON thing BEGIN"
               "    INSERT INTO told VALUES (new.code); END;");
    return shelf;
}

std::int64_t told(const Database& shelf) {
    return number(shelf, "SELECT count(*) AS n FROM told");
}

}  // namespace

TEST_SUITE("Guards that stand aside") {
    TEST_CASE("meanwhile no CHECK is asked and no trigger fires; after that all are back") {
        auto shelf = shelf_in_memory();
        Transaction transaction(shelf);
        Statement before(shelf, "INSERT INTO thing (code) VALUES (:code)");
        before.bind(":code", "A1").run(transaction);
        std::optional<Statement> meanwhile;
        {
            const GuardsAside aside(transaction, Guards::triggers_and_checks);
            meanwhile.emplace(shelf, "INSERT INTO thing (code) VALUES (:code)");
            before.bind(":code", "bad").run(transaction);
            meanwhile->bind(":code", "A2").run(transaction);
            CHECK(told(shelf) == 1);
        }
        for (auto* each : {&before, &*meanwhile}) {
            says(error_of([&] { each->bind(":code", "bad").run(transaction); }), "CHECK");
        }
        before.bind(":code", "A3").run(transaction);
        meanwhile->bind(":code", "A4").run(transaction);
        CHECK(told(shelf) == 3);
        transaction.commit();
        const auto damage = shelf.damage();
        REQUIRE(damage.size() == 1);
        says(damage.front(), "CHECK");
    }

    TEST_CASE("what else a table asks for is asked for all the same") {
        auto shelf = shelf_in_memory();
        Transaction transaction(shelf);
        const GuardsAside aside(transaction, Guards::triggers_and_checks);
        Statement add(shelf, "INSERT INTO thing (code, box) VALUES (:code, :box)");
        const auto refusal = [&](const Value& code, const Value& box) {
            return error_of([&] { add.bind(":code", code).bind(":box", box).run(transaction); });
        };
        add.bind(":code", "A1").bind(":box", std::nullopt).run(transaction);
        says(refusal("A1", {}), "UNIQUE");
        says(refusal({}, {}), "NOT NULL");
        says(refusal("A2", "no such box"), "FOREIGN KEY");
    }

    TEST_CASE("the CHECKs may stay") {
        auto shelf = shelf_in_memory();
        Transaction transaction(shelf);
        Statement add(shelf, "INSERT INTO thing (code) VALUES (:code)");
        {
            const GuardsAside aside(transaction, Guards::triggers);
            says(error_of([&] { add.bind(":code", "bad").run(transaction); }), "CHECK");
            add.bind(":code", "A1").run(transaction);
        }
        CHECK(told(shelf) == 0);
        add.bind(":code", "A2").run(transaction);
        CHECK(told(shelf) == 1);
    }

    TEST_CASE("they come back where the file cannot grow, and where somebody breaks off") {
        const auto are_back = [](Database& shelf) {
            Transaction transaction(shelf);
            Statement add(shelf, "INSERT INTO thing (code) VALUES (:code)");
            says(error_of([&] { add.bind(":code", "bad").run(transaction); }), "CHECK");
            add.bind(":code", "A0").run(transaction);
            return told(shelf) == 1;
        };
        constexpr auto many = R"sql(
            WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 100000)
            INSERT INTO thing (code) SELECT 'B' || i FROM n)sql";
        {
            auto shelf = shelf_in_memory();
            shelf.connection()->command("PRAGMA max_page_count = 30");
            const auto fill = [&] {
                Transaction transaction(shelf);
                const GuardsAside aside(transaction, Guards::triggers_and_checks);
                Statement(shelf, many).run(transaction);
            };
            says(error_of(fill), "full");
            CHECK(are_back(shelf));
        }
        auto shelf = shelf_in_memory();
        shelf.connection()->break_off_when([] { return true; });
        const auto broken_off = [&] {
            Transaction transaction(shelf);
            const GuardsAside aside(transaction, Guards::triggers_and_checks);
            Statement(shelf, many).run(transaction);
        };
        CHECK_THROWS_AS(broken_off(), BrokenOff);
        shelf.connection()->break_off_when(nullptr);
        CHECK(are_back(shelf));
    }
}
