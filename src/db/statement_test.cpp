#include "db/statement.h"

#include <limits>

#include "support/database.h"

using namespace coilbook;
using namespace coilbook::db;

namespace {

Database shelf_in_memory() {
    auto shelf = Database::in_memory(shelf_kind());
    run_script(shelf, R"sql(
        CREATE TABLE thing (
            code TEXT NOT NULL UNIQUE, note TEXT, count INTEGER, weight_kg REAL, any ANY
        ) STRICT;)sql");
    return shelf;
}

constexpr auto insert = R"sql(
    INSERT INTO thing (code, note, count, weight_kg, any)
    VALUES (:code, :note, :count, :weight_kg, :any))sql";

Statement& bound(Statement& add, std::string_view code) {
    return add.bind(":code", code)
        .bind(":note", std::nullopt)
        .bind(":count", std::nullopt)
        .bind(":weight_kg", std::nullopt)
        .bind(":any", std::nullopt);
}

}  // namespace

TEST_SUITE("Statements") {
    TEST_CASE("what is bound comes back to the last bit") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        const std::string note = "Ørret – 22.4 ± 0.2; '); DROP TABLE thing; --";
        const double weight = 0.1 + 0.2;  // 0.30000000000000004
        {
            Transaction transaction(shelf);
            CHECK(add.bind(":code", "A1")
                      .bind(":note", std::optional<std::string>(note))
                      .bind(":count", std::numeric_limits<std::int64_t>::min())
                      .bind(":weight_kg", weight)
                      .bind(":any", Value(5e-324))
                      .run(transaction) == 1);
            transaction.commit();
        }
        Statement find(shelf, "SELECT * FROM thing WHERE code = :code");
        auto rows = find.bind(":code", "A1").rows();
        REQUIRE(rows.next());
        CHECK(rows.row().text("note") == note);
        CHECK(rows.row().integer("count") == std::numeric_limits<std::int64_t>::min());
        CHECK(rows.row().real("weight_kg") == weight);
        CHECK(rows.row().value("any") == Value(5e-324));
        CHECK_FALSE(rows.next());
        CHECK_FALSE(rows.next());
    }

    TEST_CASE("NULL is told apart from 0 and from an empty text") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        {
            Transaction transaction(shelf);
            bound(add, "A1").run(transaction);
            bound(add, "A2").bind(":note", "").bind(":count", 0).run(transaction);
            transaction.commit();
        }
        Statement list(shelf, "SELECT * FROM thing ORDER BY code");
        auto rows = list.rows();
        REQUIRE(rows.next());
        CHECK(rows.row().is_null("note"));
        CHECK(rows.row().optional_text("note") == std::nullopt);
        CHECK(rows.row().optional_integer("count") == std::nullopt);
        CHECK(rows.row().optional_real("weight_kg") == std::nullopt);
        CHECK(rows.row().value("any") == Value());
        says(error_of([&] { (void)rows.row().text("note"); }), "the column note holds no text");
        says(error_of([&] { (void)rows.row().integer("count"); }), "holds no integer");
        says(error_of([&] { (void)rows.row().real("weight_kg"); }), "holds no number");
        REQUIRE(rows.next());
        CHECK(rows.row().optional_text("note") == "");
        CHECK(rows.row().optional_integer("count") == 0);
    }

    TEST_CASE("a text is not read as a number, and a column must be there") {
        const auto shelf = shelf_in_memory();
        Statement one(shelf, "SELECT '12' AS written, 12 AS counted");
        auto rows = one.rows();
        REQUIRE(rows.next());
        says(error_of([&] { (void)rows.row().integer("written"); }), "holds no integer");
        says(error_of([&] { (void)rows.row().text("counted"); }), "holds no text");
        CHECK(rows.row().real("counted") == 12.0);
        says(error_of([&] { (void)rows.row().text("nothing"); }),
             "reading 'SELECT '12' AS written, 12 AS counted': there is no column nothing");
    }

    TEST_CASE("a parameter that was forgotten, misspelt or bound last time is an error") {
        auto shelf = shelf_in_memory();
        Statement find(shelf, "SELECT code FROM thing WHERE code = :code");
        says(error_of([&] { (void)find.rows(); }), ":code was not bound");
        says(error_of([&] { find.bind(":cod", "A1"); }), "there is no parameter :cod");
        CHECK_FALSE(find.bind(":code", "A1").first([](const Row&) { return 1; }).has_value());
        says(error_of([&] { (void)find.rows(); }), ":code was not bound");
    }

    TEST_CASE("what would not come back as it went in is not bound") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        says(error_of([&] { add.bind(":weight_kg", std::numeric_limits<double>::quiet_NaN()); }),
             ":weight_kg is not a finite number");
        says(error_of([&] { add.bind(":weight_kg", std::numeric_limits<double>::infinity()); }),
             "not a finite number");
        says(error_of([&] { add.bind(":note", std::string_view("a\0b", 3)); }), "not plain text");
        says(error_of([&] { add.bind(":note", "\xFF"); }), "not plain text");
    }

    TEST_CASE("what is bound by number comes back as what is bound by name") {
        auto shelf = shelf_in_memory();
        Transaction transaction(shelf);
        Statement add(shelf,
                      "INSERT INTO thing (code, note, count, weight_kg) VALUES (?, ?, ?, ?)");
        const std::vector<Value> cells{std::string("B1"), std::monostate{}, std::int64_t{7}, 0.25};
        for (int at = 0; at < 4; ++at)
            add.bind_in_place(at + 1, cells[static_cast<std::size_t>(at)]);
        CHECK(add.run(transaction) == 1);
        Statement find(shelf, "SELECT code, note, count, weight_kg FROM thing WHERE code = 'B1'");
        auto rows = find.rows();
        REQUIRE(rows.next());
        CHECK(rows.row().stored_text(0) == "B1");
        CHECK(rows.row().is_null(1));
        CHECK(rows.row().integer("count") == 7);
        CHECK(rows.row().real("weight_kg") == 0.25);
        const Value bad(std::string("a\0b", 3));
        says(error_of([&] { add.bind_in_place(1, bad); }), "not plain text");
        const Value infinite(std::numeric_limits<double>::infinity());
        says(error_of([&] { add.bind_in_place(4, infinite); }), "not finite");
        const Value one(std::int64_t{1});
        CHECK_FALSE(error_of([&] { add.bind_in_place(5, one); }).empty());
    }

    TEST_CASE("nor is it read where another program has put it") {
        const auto shelf = shelf_in_memory();
        Statement odd(shelf,
                      "SELECT 9e999 AS infinite, CAST(x'41FF' AS TEXT) AS bytes, x'41' AS blob");
        auto rows = odd.rows();
        REQUIRE(rows.next());
        says(error_of([&] { (void)rows.row().real("infinite"); }), "holds no finite number");
        says(error_of([&] { (void)rows.row().value("infinite"); }), "holds no finite number");
        says(error_of([&] { (void)rows.row().text("bytes"); }), "holds no plain text");
        says(error_of([&] { (void)rows.row().value("blob"); }), "holds no number or text");
    }

    TEST_CASE("after a failed step the statement and its transaction can be used again") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        Transaction transaction(shelf);
        bound(add, "A1").run(transaction);
        const auto said = error_of([&] { bound(add, "A1").run(transaction); });
        says(said, "running 'INSERT INTO thing (code, note, count, weight_kg, any)");
        says(said, "UNIQUE constraint failed: thing.code");
        bound(add, "A2").run(transaction);
        transaction.commit();
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 2);
    }

    TEST_CASE("rows that are left half-way leave the statement ready") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        {
            Transaction transaction(shelf);
            for (const char* code : {"A1", "A2", "A3"}) bound(add, code).run(transaction);
            transaction.commit();
        }
        Statement list(shelf, "SELECT code FROM thing ORDER BY code");
        CHECK_THROWS_AS((void)list.all([](const Row&) -> int { throw Error("stop"); }), Error);
        const auto codes = list.all([](const Row& row) { return row.text("code"); });
        CHECK(codes == std::vector<std::string>{"A1", "A2", "A3"});
        {
            auto rows = list.rows();
            REQUIRE(rows.next());
            says(error_of([&] { (void)list.rows(); }), "still being read");
        }
        CHECK(list.all([](const Row& row) { return row.text("code"); }).size() == 3);
    }

    TEST_CASE("a statement that writes runs only in an open transaction of its own database") {
        auto shelf = shelf_in_memory();
        auto other = shelf_in_memory();
        Statement add(shelf, insert);
        Statement gone(shelf, "DELETE FROM thing RETURNING code");
        says(error_of([&] { (void)bound(add, "A1").rows(); }), "run it in a transaction");
        says(error_of([&] { (void)gone.rows(); }), "run it in a transaction");
        Transaction on_other(other);
        says(error_of([&] { add.run(on_other); }), "on another database");
        Transaction transaction(shelf);
        transaction.commit();
        says(error_of([&] { add.run(transaction); }), "is over");
        CHECK(number(shelf, "SELECT count(*) AS n FROM thing") == 0);
    }

    TEST_CASE("the number of rows changed is the statement's own") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        Statement raise(shelf, "UPDATE thing SET count = :count WHERE code >= :from");
        Transaction transaction(shelf);
        for (const char* code : {"A1", "A2", "A3"}) bound(add, code).run(transaction);
        CHECK(raise.bind(":count", 7).bind(":from", "A2").run(transaction) == 2);
        CHECK(raise.bind(":count", 7).bind(":from", "B").run(transaction) == 0);
    }

    TEST_CASE("SQL that is wrong, empty or more than one statement says what it is") {
        auto shelf = shelf_in_memory();
        says(error_of([&] { const Statement bad(shelf, "SELEC 1"); }),
             "preparing 'SELEC 1': near \"SELEC\": syntax error");
        says(error_of([&] { const Statement bad(shelf, "SELECT a FROM nowhere"); }),
             "no such table");
        says(error_of([&] { const Statement bad(shelf, "  -- nothing"); }), "no statement");
        says(error_of([&] { const Statement bad(shelf, "SELECT 1; SELECT 2"); }),
             "more than one statement");
        CHECK(error_of([&] { const Statement good(shelf, "SELECT 1;\n "); }) == "");
    }

    TEST_CASE("a statement keeps its database open") {
        auto shelf = std::make_unique<Database>(shelf_in_memory());
        Statement count(*shelf, "SELECT count(*) AS n FROM thing");
        shelf.reset();
        CHECK(count.first([](const Row& row) { return row.integer("n"); }) == 0);
    }

    TEST_CASE("a text longer than a megabyte is refused") {
        auto shelf = shelf_in_memory();
        Statement add(shelf, insert);
        says(error_of([&] { add.bind(":note", std::string(2'000'000, 'x')); }), "too big");
    }
}
