#include "catalog/given_code.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <random>
#include <set>

using namespace coilbook;

namespace {

// Every wrong character at every place, and every swap of two unlike characters at any two places.
// Gives how many of these errors would pass as another right code.
int unseen_errors(const std::string& code) {
    int unseen = 0;
    auto wrong = code;
    for (std::size_t at = 0; at < code.size(); ++at) {
        for (const char c : code_alphabet) {
            wrong[at] = c;
            unseen += c != code[at] && is_given_code(wrong) ? 1 : 0;
        }
        wrong[at] = code[at];
        for (std::size_t other = at + 1; other < code.size(); ++other) {
            std::swap(wrong[at], wrong[other]);
            unseen += wrong != code && is_given_code(wrong) ? 1 : 0;
            std::swap(wrong[at], wrong[other]);
        }
    }
    return unseen;
}

}  // namespace

TEST_SUITE("Codes that the program gives") {
    // By hand, values 2=0 3=1 4=2 5=3 7=4 9=5 C=6 F=7 H=8 J=9 K=10 L=11 M=12 R=13 T=14 W=15 X=16:
    // K7M3X is 10, 4, 12, 1, 16. 10·32 + 4·16 + 12·8 + 1·4 + 16·2 = 516 = 30·17 + 6. The check
    // character makes it 1 modulo 17: 1 - 6 = -5 = 12, which is M.
    TEST_CASE("a worked example: K7M3X takes the check character M") {
        CHECK(check_character("K7M3X") == 'M');
        CHECK(is_given_code("K7M3XM"));
        CHECK_FALSE(is_given_code("K7M3XK"));
    }

    // Sources: ISO/IEC 7064 MOD 11-2, in its best known use: the ORCID of the example in ORCID's
    // documentation is 0000-0002-1825-0097 (from memory). The same rule with 11 in place of 17.
    TEST_CASE("the rule is that of the standard's pure systems") {
        const std::string orcid = "0000000218250097";
        unsigned sum = 0;
        for (const char digit : orcid) sum = (sum * 2 + static_cast<unsigned>(digit - '0')) % 11;
        CHECK(sum == 1);
        // And ours: the sum with weights 2^5 … 2^0 is 1 modulo 17.
        unsigned ours = 0;
        for (const char c : std::string("K7M3XM")) {
            ours = (ours * 2 + static_cast<unsigned>(code_alphabet.find(c))) % 17;
        }
        CHECK(ours == 1);
    }

    // Whether an error is seen depends on the other characters only through what they add to the
    // sum, one of 17 remainders, and the check character gives the sum its right value. So errors
    // in all codes are covered by all pairs of values at all places under one sum. With
    // COILBOOK_CODES=all each of the 1 419 857 codes is tried itself.
    TEST_CASE("no single wrong character and no swap passes, in any code") {
        const unsigned weights[] = {15, 16, 8, 4, 2, 1};  // 2^5 … 2^0 modulo 17
        for (std::size_t at = 0; at < 6; ++at) {
            for (unsigned was = 0; was < 17; ++was) {
                for (unsigned is = 0; is < 17; ++is) {
                    if (is == was) continue;
                    CHECK(weights[at] * was % 17 != weights[at] * is % 17);
                    for (std::size_t other = at + 1; other < 6; ++other) {
                        CHECK((weights[at] * was + weights[other] * is) % 17 !=
                              (weights[at] * is + weights[other] * was) % 17);
                    }
                    // A doubled pair of neighbours read as another doubled pair.
                    if (at < 5) {
                        CHECK((weights[at] + weights[at + 1]) * was % 17 !=
                              (weights[at] + weights[at + 1]) * is % 17);
                    }
                }
            }
        }
        const char* all = std::getenv("COILBOOK_CODES");
        const std::uint64_t step = all != nullptr && std::string(all) == "all" ? 1 : 211;
        std::uint64_t tried = 0;
        int unseen = 0;
        for (std::uint64_t number = 0; number < given_codes; number += step) {
            unseen += unseen_errors(given_code(number));
            ++tried;
        }
        CHECK(unseen == 0);
        CHECK(tried >= given_codes / 211);
    }

    TEST_CASE("every number has a code of its own") {
        std::set<std::string> codes;
        for (std::uint64_t number = 0; number < 20'000; ++number) codes.insert(given_code(number));
        CHECK(codes.size() == 20'000);
        CHECK(given_code(0) == "22222" + std::string(1, check_character("22222")));
        CHECK(given_code(given_codes - 1).starts_with("XXXXX"));
        CHECK(given_code(given_codes) == given_code(0));
        for (const auto& code : codes) REQUIRE(is_given_code(code));
    }

    // The chance told in the header: 200 and 200 codes share one in about 2.8 % of cases.
    TEST_CASE("codes drawn apart meet as seldom as is said") {
        std::mt19937_64 lot(7);
        int met = 0;
        constexpr int trials = 2000;
        for (int trial = 0; trial < trials; ++trial) {
            std::set<std::uint64_t> here;
            for (int i = 0; i < 200; ++i) here.insert(lot() % given_codes);
            bool meets = false;
            for (int i = 0; i < 200; ++i) meets |= here.contains(lot() % given_codes);
            met += meets ? 1 : 0;
        }
        // 2000 · 200 · 200 / 1 419 857 = 56, give or take 7.5.
        CHECK(met > 30);
        CHECK(met < 85);
    }

    TEST_CASE("what a person types for a code is read") {
        CHECK(read_given_code("K7M3XM") == "K7M3XM");
        CHECK(read_given_code(" k7m-3xm ") == "K7M3XM");
        CHECK(read_given_code("K7M 3XM") == "K7M3XM");
        const auto with_five = given_code(3);  // 22225 and its check character
        REQUIRE(with_five.substr(0, 5) == "22225");
        auto misread = with_five;
        misread[4] = 's';
        misread[0] = 'Z';
        CHECK(read_given_code(misread) == with_five);
        CHECK_FALSE(read_given_code("K7M3XN").has_value());
        CHECK_FALSE(read_given_code("A7").has_value());
        CHECK_FALSE(read_given_code("").has_value());
    }

    TEST_CASE("a person's own code is no given one") {
        CHECK_FALSE(has_form_of_given_code("A7"));
        CHECK_FALSE(has_form_of_given_code("TIP-11"));
        CHECK(has_form_of_given_code("K7M3X9"));
        CHECK_FALSE(is_given_code("K7M3X9"));
        CHECK(is_mistyped_code("k7m3x9"));
        CHECK_FALSE(is_mistyped_code("k7m3xm"));
        CHECK_FALSE(is_mistyped_code("A7"));
    }

    TEST_CASE("a mistyped code is told with the nearest ones") {
        const std::vector<std::string> codes{"A7", "K7M3XM", "K7M3XWR", "TTTTTT", "7KM3XM", "B7"};
        CHECK(nearest_codes("K7M3XW", codes) ==
              std::vector<std::string>{"K7M3XM", "K7M3XWR", "7KM3XM"});
        CHECK(nearest_codes("k7m3xm", codes, 1) == std::vector<std::string>{"K7M3XM"});
        CHECK(nearest_codes("A8", codes) == std::vector<std::string>{"A7"});
        CHECK(nearest_codes("QQQQQQ", codes).empty());
        CHECK(nearest_codes("", codes).empty());
        CHECK(nearest_codes("X", codes).empty());
    }
}
