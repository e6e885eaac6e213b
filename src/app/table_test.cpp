#include "app/table.h"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace coilbook;
using namespace coilbook::app;

namespace {

std::string written(Format format, const std::vector<std::vector<Cell>>& rows,
                    std::size_t width = 0, const char* note = "") {
    std::ostringstream out;
    RowWriter writer(out, {{"code"}, {"weight", true, 3}, {"pieces", true}, {"notes"}}, format,
                     width);
    for (const auto& row : rows) writer.add(row, {{"more", 1}});
    writer.finish(note);
    return out.str();
}

const std::vector<std::vector<Cell>> two_rows{
    {"A1", 22.456789, std::int64_t{3}, "ørret, old"},
    {"A12", Cell{}, Cell{}, Cell{}},
};

}  // namespace

TEST_SUITE("Rows of results") {
    TEST_CASE("CSV has exact numbers and empty cells for what is missing") {
        CHECK(written(Format::csv, two_rows) ==
              "code,weight,pieces,notes\nA1,22.456789,3,\"ørret, old\"\nA12,,,\n");
        CHECK(written(Format::csv, {{"A", 0.1 + 0.2, Cell{}, Cell{}}}) ==
              "code,weight,pieces,notes\nA,0.30000000000000004,,\n");
        CHECK(written(Format::csv, {}) == "code,weight,pieces,notes\n");
    }

    TEST_CASE("JSON has the columns as keys, null for what is missing, and what comes besides") {
        CHECK(written(Format::json, two_rows) ==
              "[\n"
              R"({"code":"A1","weight":22.456789,"pieces":3,"notes":"ørret, old","more":1})"
              ",\n"
              R"({"code":"A12","weight":null,"pieces":null,"notes":null,"more":1})"
              "\n]\n");
        CHECK(written(Format::json, {}) == "[]\n");
    }

    TEST_CASE("a table is rounded and aligned, and says its note only below rows") {
        CHECK(written(Format::table, two_rows, 0, "k = 1") ==
              "code  weight  pieces  notes\n"
              "A1      22.5       3  ørret, old\n"
              "A12\n"
              "\n"
              "k = 1\n");
        CHECK(written(Format::table, {}, 0, "k = 1") == "code  weight  pieces  notes\n");
    }

    TEST_CASE("a table wider than the terminal has its widest texts cut") {
        const auto text = written(
            Format::table, {{"A1", 1.0, Cell{}, "a long story\nof two lines, told in full"}}, 40);
        CHECK(text == "code  weight  pieces  notes\nA1      1.00          a long story of t…\n");
        // Nothing is cut below ten columns: then the terminal has to wrap.
        const auto narrow = written(Format::table, {{"A1", 1.0, Cell{}, "a long story"}}, 5);
        CHECK(narrow == "code  weight  pieces  notes\nA1      1.00          a long st…\n");
    }

    TEST_CASE("where cutting is not enough, dispensable columns go, and numbers are never cut") {
        std::ostringstream out;
        RowWriter writer(out,
                         {{"code"}, {"gr/ft", true, 4, 1}, {"mm", true, 4, 2}, {"sinks", true}},
                         Format::table, 25);
        writer.add({"A1", "11.00 ± 0.03", "0.830 ± 0.010", "7.1 ± 0.3"});
        writer.finish("k = 1");
        CHECK(out.str() ==
              "code      sinks\n"
              "A1    7.1 ± 0.3\n"
              "\n"
              "k = 1\n"
              "Columns were left out; a wider terminal or --format csv shows all.\n");
    }

    TEST_CASE("what is no number is missing") {
        using Limits = std::numeric_limits<double>;
        CHECK(cell_of(Limits::quiet_NaN()) == Cell{});
        CHECK(cell_of(Limits::infinity()) == Cell{});
        CHECK(cell_of(std::optional<double>()) == Cell{});
        CHECK(cell_of(0.0) == Cell{0.0});
        CHECK(cell_of(std::string()) == Cell{});
    }

    TEST_CASE("formats go by their names") {
        CHECK(format_from("csv") == Format::csv);
        CHECK(format_from("json") == Format::json);
        CHECK(format_from("table") == Format::table);
        CHECK(to_line(format_from("xml").error()) ==
              "format: 'xml' is not a format; expected table, csv or json");
    }
}
