#include "base/text.h"

#include <doctest/doctest.h>

#include <string>

#include "base/result.h"

using namespace coilbook;

TEST_SUITE("Text that people type") {
    TEST_CASE("blanks around a word do not count") {
        CHECK(trimmed("  T-8\t\r\n") == "T-8");
        CHECK(trimmed(" \t ") == "");
    }

    TEST_CASE("a list falls apart at blanks and bars, and empty pieces are left out") {
        const auto found = pieces("0.94 | 0.95  0.93", " |");
        REQUIRE(found.size() == 3);
        CHECK(found[0] == "0.94");
        CHECK(found[2] == "0.93");
        CHECK(pieces("", " |").empty());
    }

    TEST_CASE("words are listed as in a sentence") {
        CHECK(listed({}) == "");
        CHECK(listed({"a"}) == "a");
        CHECK(listed({"a", "b", "c"}) == "a, b and c");
    }

    TEST_CASE("well-formed UTF-8 is plain text; NUL, overlong forms and surrogates are not") {
        CHECK(is_plain_text("22.4 ± 0.2 gr, Ørret, 鮭, 🎣"));
        CHECK_FALSE(is_plain_text(std::string_view("a\0b", 3)));
        CHECK_FALSE(is_plain_text("\xC0\xAF"));          // overlong '/'
        CHECK_FALSE(is_plain_text("\xED\xA0\x80"));      // a surrogate
        CHECK_FALSE(is_plain_text("\xF4\x90\x80\x80"));  // above U+10FFFF
        CHECK_FALSE(is_plain_text("\xE2\x82"));          // cut off
    }

    TEST_CASE("a thousand-digit number is quoted short, and control characters are shown as ?") {
        CHECK(quoted(std::string(1000, '7'), 10) == "'7777777777…'");
        CHECK(quoted(std::string_view("a\x01\xFF", 3)) == "'a?\?'");
        CHECK(quoted("±±", 2) == "'±…'");
    }

    TEST_CASE("a problem reads as one line: where, what, and what would be accepted") {
        CHECK(to_line({"sample_weight", "'-3 gr' is negative", "a weight above zero"}) ==
              "sample_weight: '-3 gr' is negative; expected a weight above zero");
        CHECK(to_line({"", "no such file", ""}) == "no such file");
    }
}
