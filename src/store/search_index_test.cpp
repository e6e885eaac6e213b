#include "store/search_index.h"

#include <algorithm>
#include <random>
#include <set>

#include "support/catalogue.h"

using namespace coilbook;
using namespace coilbook::store;

namespace {

SearchEntry an_entry(std::int64_t coil, std::string code, std::string notes = "",
                     Figures figures = {}) {
    return {coil, std::move(code), "", "bin", "", std::move(notes), figures};
}

void fill(SearchIndex& index, const std::vector<SearchEntry>& entries, std::int64_t act = 1) {
    SearchIndex::Change change(index, true);
    for (const auto& entry : entries) change.put(entry);
    change.finish({act, "seal"});
}

std::vector<std::string> codes(const SearchAnswer& answer) {
    std::vector<std::string> found;
    for (const auto& entry : answer.entries) found.push_back(entry.code);
    return found;
}
std::vector<std::string> by_words(SearchIndex& index, std::vector<std::string> words) {
    return codes(index.find({.words = std::move(words)}));
}
using Codes = std::vector<std::string>;

}  // namespace

TEST_SUITE("The index that a search goes through") {
    TEST_CASE("a coil is found by the beginnings of its words, whatever case and accents") {
        auto index = SearchIndex::in_memory();
        fill(index, {{1, "K7", "T-11", "boat Heron", "dark level", "drift-boat's box, Müller", {}},
                     {2, "K70", "T-8", "bin", "pale", "1/2\" loop", {}}});
        CHECK(by_words(index, {"her"}) == Codes{"K7"});
        CHECK(by_words(index, {"T-1"}) == Codes{"K7"});
        CHECK(by_words(index, {"dar", "HERON"}) == Codes{"K7"});
        CHECK(by_words(index, {"dark", "pale"}).empty());
        CHECK(by_words(index, {"muller"}) == Codes{"K7"});
        CHECK(by_words(index, {"box"}) == Codes{"K7"});
        CHECK(by_words(index, {"1/2\""}) == Codes{"K70"});
        CHECK(by_words(index, {"eron"}).empty());  // not a beginning
    }

    TEST_CASE("the coil of just that code stands first, and once") {
        auto index = SearchIndex::in_memory();
        fill(index, {an_entry(1, "K70"), an_entry(2, "K7"), an_entry(3, "M1", "as K7")});
        CHECK(by_words(index, {"K7"}) == Codes{"K7", "K70", "M1"});
        CHECK(by_words(index, {"k7"}) == Codes{"K70", "K7", "M1"});
        auto answer = index.find({.words = {"K7"}, .ranges = {}, .limit = 2});
        CHECK(codes(answer) == Codes{"K7", "K70"});
        CHECK(answer.count == 3);
    }

    // What the search language of SQLite would take for more than words.
    TEST_CASE("whatever is typed is taken for words") {
        auto index = SearchIndex::in_memory();
        fill(index, {an_entry(1, "A", "code : x AND NOT near")});
        for (const char* odd :
             {"\"", "'", "*", "NOT", "AND", "OR", "NEAR(", "code:A", "^A", "(", "-", "{a}", "a*b",
              "\"\"", "a\"b", "+", "日", "…", "x'); DROP TABLE entry;--"}) {
            CAPTURE(odd);
            CHECK_NOTHROW((void)index.find({.words = {odd}}));
            CHECK_NOTHROW((void)index.find({.words = {"near", odd}}));
        }
        CHECK(by_words(index, {"NOT"}) == Codes{"A"});
        // What says nothing narrows nothing.
        CHECK(by_words(index, {"near", "-"}) == Codes{"A"});
        CHECK(by_words(index, {"near", "…"}) == Codes{"A"});
    }

    TEST_CASE("what was put in again or removed is found as it is now") {
        auto index = SearchIndex::in_memory();
        fill(index, {an_entry(1, "K1", "old words"), an_entry(2, "K2")});
        {
            SearchIndex::Change change(index, false);
            change.put(an_entry(1, "K1", "new words"));
            change.remove(2);
            change.put(an_entry(3, "K3", "another"));
            change.finish({2, "next"});
        }
        CHECK(by_words(index, {"old"}).empty());
        CHECK(by_words(index, {"new"}) == Codes{"K1"});
        CHECK(by_words(index, {"K"}) == Codes{"K1", "K3"});
        CHECK(index.size() == 2);
        CHECK(index.mark() == SearchMark{2, "next"});
        CHECK(index.damage().empty());
    }

    TEST_CASE("a change that is not finished has not happened") {
        auto index = SearchIndex::in_memory();
        fill(index, {an_entry(1, "K1")});
        {
            SearchIndex::Change change(index, true);
            change.put(an_entry(2, "K2"));
        }
        CHECK(by_words(index, {"K"}) == Codes{"K1"});
        CHECK(index.mark() == SearchMark{1, "seal"});
        CHECK(index.damage().empty());
    }

    // Against a plain look at every entry.
    TEST_CASE("any words and ranges find what a look at every coil finds") {
        std::mt19937 random(1);
        const auto draw = [&](double low, double high) {
            return std::uniform_real_distribution<double>(low, high)(random);
        };
        const std::vector<std::string> vocabulary{"dark", "pale", "drift", "shop", "T-11", "T-8"};
        std::vector<SearchEntry> entries;
        for (int n = 1; n <= 6000; ++n) {
            Figures figures{};
            for (auto& figure : figures) {
                if (random() % 8 != 0) figure = std::round(draw(0.0, 100.0));
            }
            std::string notes = vocabulary[random() % 6] + " " + vocabulary[random() % 6];
            entries.push_back(an_entry(n, "C" + std::to_string(n), notes, figures));
        }
        auto index = SearchIndex::in_memory();
        fill(index, entries);
        for (int round = 0; round < 150; ++round) {
            SearchQuery query{.words = {}, .ranges = {}, .limit = 10'000, .count_limit = 10'000};
            for (std::size_t n = random() % 3; n > 0; --n) {
                query.words.push_back(vocabulary[random() % 6].substr(0, 1 + random() % 4));
            }
            for (std::size_t at = 0; at < figure_count; ++at) {
                if (random() % 3 != 0) continue;
                FigureRange range{static_cast<Figure>(at)};
                const double from = std::round(draw(0.0, 100.0));
                if (random() % 4 != 0) range.from = from;
                if (random() % 4 != 0) range.to = from + std::round(draw(0.0, 60.0));
                query.ranges.push_back(range);
            }
            std::set<std::string> expected;
            for (const auto& entry : entries) {
                bool fits = true;
                for (const auto& range : query.ranges) {
                    const auto value = entry.figures[static_cast<std::size_t>(range.figure)];
                    fits = fits && value && value >= range.from.value_or(-1.0) &&
                           value <= range.to.value_or(1e9);
                }
                for (const auto& word : query.words) {
                    const bool has = (" " + entry.notes).find(" " + word) != std::string::npos;
                    fits = fits && has;
                }
                if (fits) expected.insert(entry.code);
            }
            const auto answer = index.find(query);
            const auto found = codes(answer);
            CAPTURE(round);
            CHECK(std::set<std::string>(found.begin(), found.end()) == expected);
            CHECK(found.size() == expected.size());
            CHECK(answer.count == expected.size());
        }
    }

    TEST_CASE("many are counted so far and no further") {
        auto index = SearchIndex::in_memory();
        std::vector<SearchEntry> entries;
        for (int n = 1; n <= 50; ++n) entries.push_back(an_entry(n, "C" + std::to_string(n)));
        fill(index, entries);
        auto answer = index.find({.words = {"C"}, .ranges = {}, .limit = 5, .count_limit = 20});
        CHECK(answer.entries.size() == 5);
        CHECK(answer.count == 20);
        CHECK_FALSE(answer.is_counted);
        answer = index.find({.words = {"C4"}, .ranges = {}, .limit = 5, .count_limit = 20});
        CHECK(answer.count == 11);
        CHECK(answer.is_counted);
        // Nothing is sought: all of them, by code.
        CHECK(codes(index.find({.words = {}, .ranges = {}, .limit = 3})) ==
              Codes{"C1", "C10", "C11"});
    }

    TEST_CASE("counting what would take long ends early, and what is said of it is true") {
        auto index = SearchIndex::in_memory();
        std::vector<SearchEntry> entries;
        for (int n = 1; n <= 25'000; ++n) {
            entries.push_back(an_entry(n, "C" + std::to_string(n)));
            entries.back().figures[0] = n % 2 == 0 ? 0.001 : 0.002;
            if (n % 100 == 0) entries.back().figures[0] = std::nullopt;
        }
        fill(index, entries);
        const FigureRange all{Figure::weight_per_length, 0.001, 0.002};
        const auto answer =
            index.find({.words = {"C"}, .ranges = {all}, .limit = 5, .count_limit = 50'000});
        CHECK(codes(answer) == Codes{"C1", "C2", "C3", "C4", "C5"});
        CHECK_FALSE(answer.is_counted);
        CHECK(answer.count > 1000);
        CHECK(answer.count < 24'750);
        // As many as are to be shown are looked for to the end.
        const auto whole =
            index.find({.words = {"C"}, .ranges = {all}, .limit = 30'000, .count_limit = 50'000});
        CHECK(whole.is_counted);
        CHECK(whole.count == 24'750);
        CHECK(whole.entries.size() == 24'750);
    }

    TEST_CASE("an index that is damaged or of something else is made anew, and is private") {
        const TemporaryFolder folder;
        const auto file = folder / "a.search";
        {
            auto index = SearchIndex::open(file);
            fill(index, {an_entry(1, "K1")});
        }
        CHECK(std::filesystem::status(file).permissions() ==
              (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
        {
            auto again = SearchIndex::open(file);
            CHECK(again.mark() == SearchMark{1, "seal"});
            CHECK(by_words(again, {"K1"}) == Codes{"K1"});
        }
        auto bytes = bytes_of(file);
        std::fill(bytes.begin() + 4096, bytes.end(), 'x');
        write_bytes(file, bytes);
        CHECK_FALSE(SearchIndex::open(file).mark().has_value());
        write_bytes(file, "something else");
        CHECK_FALSE(SearchIndex::open(file).mark().has_value());
    }
}
