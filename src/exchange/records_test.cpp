#include "exchange/records.h"

#include <doctest/doctest.h>

#include <random>
#include <sstream>

#include "support/words.h"

using namespace coilbook;
using namespace coilbook::exchange;

namespace {

// All rows of a file as "line: name=text name=text", refusals as "! sentence".
std::vector<std::string> rows_of(const std::string& bytes) {
    std::istringstream stream(bytes);
    std::vector<std::string> rows;
    const auto whole = read_records(
        stream, "file", [](const RecordsHead&) -> Result<void> { return {}; },
        [&](const Result<Record>& record) {
            if (!record) return rows.push_back("! " + to_line(record.error()));
            auto text = std::to_string(record->line) + ":";
            for (const auto& cell : record->cells) {
                text += " " + std::string(cell.name) + "=" + cell.text.value_or("-");
            }
            rows.push_back(text);
        });
    if (!whole) rows.push_back("!! " + to_line(whole.error()));
    return rows;
}

using Rows = std::vector<std::string>;

}  // namespace

TEST_SUITE("Tables of records") {
    TEST_CASE("CSV and JSON of the same rows read alike") {
        const Rows expected{"2: code=A7 grams=0.1 notes=-", "3: code=B8 grams=- notes=x"};
        CHECK(rows_of("Code,grams,notes\nA7,0.1,\nB8,,x\n") == expected);
        CHECK(rows_of("\xEF\xBB\xBF"
                      "code;grams;notes\r\nA7;0.1;\r\nB8;;x") == expected);
        CHECK(rows_of("[\n{\"code\":\"A7\",\"grams\":0.1,\"notes\":null},\n"
                      "{\"code\":\"B8\",\"grams\":null,\"notes\":\"x\"}]") == expected);
    }

    TEST_CASE("a number in JSON is taken digit by digit") {
        CHECK(rows_of("[{\"n\": 0.30000000000000004}, {\"n\": 17}, {\"n\": -3e-7}]") ==
              Rows{"1: n=0.30000000000000004", "1: n=17", "1: n=-3e-7"});
        CHECK(rows_of("[{\"n\": true}]") == Rows{"1: n=yes"});
    }

    TEST_CASE("what is no list of rows is refused, and nothing deep or long is taken in") {
        struct Case {
            std::string bytes;
            const char* says;
        };
        const std::vector<Case> cases{
            {"{\"code\": 1}", "the file is one object"},
            {"[1]", "outside a row"},
            {"[[]]", "a list stands inside"},
            {"[{\"a\": [1]}]", "a list stands inside"},
            {"[{\"a\": {}}]", "an object stands inside"},
            {"[{\"a\": 1}", "is not JSON"},
            {"[{\"a\": 1}] x", "is not JSON"},
            {"[{\"a\": \"\xFF\"}]", "is not JSON"},
            {"[{\"a\": 1, \"a\": 2}]", "stands twice"},
            {"[{\"a\": \"\\u0000\"}]", "no plain text"},
            {std::string(100'000, '['), "a list stands inside"},
            {"[{\"a\": \"" + std::string(2'000'000, 'x') + "\"}]", "longer than 1 MiB"},
            {"[{\"" + std::string(2'000'000, 'x') + "\": 1}]", "longer than 1 MiB"},
            {"[{}" + std::string(2'000'000, ' ') + "]", "longer than 1 MiB"},
            {"", "is empty"},
            {"code,code\n1,2\n", "stands twice"},
        };
        for (const auto& each : cases) {
            CAPTURE(each.bytes.substr(0, 40));
            const auto rows = rows_of(each.bytes);
            REQUIRE_FALSE(rows.empty());
            CHECK(mentions(rows.back(), each.says));
        }
    }

    TEST_CASE("a text that a spreadsheet would run is guarded, and every text comes back") {
        CHECK(guarded("=1+1") == "'=1+1");
        CHECK(guarded("'=1") == "''=1");
        CHECK(guarded("'tis") == "'tis");
        CHECK(guarded("12' 3\"") == "12' 3\"");
        CHECK(unguarded("'-3 C") == "-3 C");
        std::mt19937 random(7);
        for (int n = 0; n < 2000; ++n) {
            std::string text;
            for (int i = 0; i < n % 6; ++i) text += "'=+-@\t\rx"[random() % 8];
            CHECK(unguarded(guarded(text)) == text);
            const auto first = guarded(text).substr(0, 1);
            if (!first.empty()) CHECK(std::string("=+-@\t\r").find(first) == std::string::npos);
        }
    }
}
