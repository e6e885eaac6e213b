#include "store/search_index.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <string_view>

#include "base/text.h"
#include "db/migration.h"

namespace coilbook::store {
namespace {

constexpr auto tables = R"sql(
CREATE TABLE entry (
    coil              INTEGER PRIMARY KEY,
    code              TEXT NOT NULL,
    class_name        TEXT NOT NULL,
    place             TEXT NOT NULL,
    looks             TEXT NOT NULL,
    notes             TEXT NOT NULL,
    weight_per_length REAL,
    density           REAL,
    diameter          REAL,
    sink_rate         REAL,
    length            REAL
) STRICT;
CREATE TABLE mark (
    one  INTEGER PRIMARY KEY CHECK (one = 1),
    act  INTEGER NOT NULL,
    seal TEXT NOT NULL
) STRICT;
CREATE VIRTUAL TABLE word USING fts5 (
    code, class_name, place, looks, notes, content = 'entry', content_rowid = 'coil',
    columnsize = 0, prefix = '1 2 3 4 5 6', tokenize = 'unicode61 remove_diacritics 2');
)sql";

// What stands in the way of putting a whole bin in, and is quicker made at its end. Each figure's
// index has all figures, so that a search by several need not look at the entries.
struct OrderedIndex {
    std::string_view name;
    std::string_view columns;
};
constexpr std::array<OrderedIndex, 6> indexes{{
    {"entry_by_weight_per_length", "weight_per_length, density, diameter, sink_rate, length"},
    {"entry_by_density", "density, weight_per_length, diameter, sink_rate, length"},
    {"entry_by_diameter", "diameter, weight_per_length, density, sink_rate, length"},
    {"entry_by_sink_rate", "sink_rate, weight_per_length, density, diameter, length"},
    {"entry_by_length", "length, weight_per_length, density, diameter, sink_rate"},
    {"entry_by_code", "code"},
}};

constexpr std::array<std::string_view, figure_count> figure_names{
    "weight_per_length", "density", "diameter", "sink_rate", "length"};
std::string_view name_of(Figure figure) {
    return figure_names[static_cast<std::size_t>(figure)];
}

std::string script_of_indexes(bool is_drop) {
    std::string script;
    for (const auto& each : indexes) {
        script += is_drop
                      ? fmt::format("DROP INDEX {};\n", each.name)
                      : fmt::format("CREATE INDEX {} ON entry ({});\n", each.name, each.columns);
    }
    return script;
}

db::FileKind index_kind() {
    return {.application_id = 0x436F5365, .newest_version = 1, .name = "search index"};  // "CoSe"
}

db::Database with_tables(db::Database database) {
    const auto script = tables + script_of_indexes(false);
    const std::array steps{db::Migration{1, "search", script}};
    (void)db::migrate(database, steps);
    return database;
}

void remove_with_log(const std::filesystem::path& file) {
    for (const char* ending : {"", "-wal", "-shm", "-journal"}) {
        std::error_code none;
        std::filesystem::remove(file.string() + ending, none);
    }
}

SearchEntry entry_from(const db::Row& row) {
    SearchEntry entry{.coil = row.integer("coil"),
                      .code = row.text("code"),
                      .class_name = row.text("class_name"),
                      .place = row.text("place"),
                      .looks = row.text("looks"),
                      .notes = row.text("notes")};
    for (std::size_t at = 0; at < figure_count; ++at) {
        entry.figures[at] = row.optional_real(figure_names[at]);
    }
    return entry;
}

// The words as the full text search wants them: each in quotes, which makes everything in it plain
// text, as the beginning of a word. What has neither letter nor digit says nothing.
std::string match_of(const std::vector<std::string>& words) {
    std::string match;
    for (const auto& word : words) {
        const bool says_something = std::ranges::any_of(word, [](char c) {
            const auto byte = static_cast<unsigned char>(c);
            return byte >= 0x80 || std::isalnum(byte) != 0;
        });
        if (!says_something) continue;
        std::string quoted;
        for (const char c : word) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
        match += (match.empty() ? "\"" : " \"") + quoted + "\"*";
    }
    return match;
}

std::string condition_of(const FigureRange& range, std::string_view table) {
    const auto name = name_of(range.figure);
    std::string condition;
    if (range.from) condition += fmt::format("{}.{} >= :{}_from", table, name, name);
    if (range.to) {
        condition +=
            fmt::format("{}{}.{} <= :{}_to", condition.empty() ? "" : " AND ", table, name, name);
    }
    return condition.empty() ? fmt::format("{}.{} IS NOT NULL", table, name) : condition;
}
void bind_range(db::Statement& statement, const FigureRange& range) {
    const std::string name = ":" + std::string(name_of(range.figure));
    if (range.from) statement.bind(name + "_from", *range.from);
    if (range.to) statement.bind(name + "_to", *range.to);
}

}  // namespace

SearchIndex::SearchIndex(db::Database database) : database_(std::move(database)) {}

SearchIndex SearchIndex::open(const std::filesystem::path& file) {
    std::error_code none;
    if (std::filesystem::exists(file, none)) {
        try {
            return SearchIndex(with_tables(db::Database::open(file, index_kind())));
        } catch (const Error&) {  // of another version, or damaged: nothing in it is missed
            remove_with_log(file);
        }
    }
    return SearchIndex(with_tables(db::Database::create(file, index_kind())));
}

SearchIndex SearchIndex::in_memory() {
    return SearchIndex(with_tables(db::Database::in_memory(index_kind())));
}

std::optional<SearchMark> SearchIndex::mark() {
    db::Statement find(database_, "SELECT act, seal FROM mark");
    return find.first([](const db::Row& row) {
        return SearchMark{row.integer("act"), row.text("seal")};
    });
}

std::size_t SearchIndex::size() {
    db::Statement count(database_, "SELECT count(*) AS n FROM entry");
    return static_cast<std::size_t>(
        *count.first([](const db::Row& row) { return row.integer("n"); }));
}

SearchIndex::Change::Change(SearchIndex& index, bool is_new)
    : index_(index),
      is_new_(is_new),
      transaction_(index.database_),
      insert_(index.database_, R"sql(
          INSERT INTO entry (coil, code, class_name, place, looks, notes, weight_per_length,
                             density, diameter, sink_rate, length)
          VALUES (:coil, :code, :class_name, :place, :looks, :notes, :weight_per_length,
                  :density, :diameter, :sink_rate, :length))sql"),
      remove_(index.database_, "DELETE FROM entry WHERE coil = :coil") {
    if (!is_new_) return;
    transaction_.run_script(script_of_indexes(true) +
                            "DELETE FROM mark;\n"
                            "INSERT INTO word (word) VALUES ('delete-all');\n"
                            "DELETE FROM entry;\n");
}

void SearchIndex::Change::put(const SearchEntry& entry) {
    if (!is_new_) remove(entry.coil);
    insert_.bind(":coil", entry.coil)
        .bind(":code", entry.code)
        .bind(":class_name", entry.class_name)
        .bind(":place", entry.place)
        .bind(":looks", entry.looks)
        .bind(":notes", entry.notes);
    for (std::size_t at = 0; at < figure_count; ++at) {
        insert_.bind(":" + std::string(figure_names[at]), entry.figures[at]);
    }
    insert_.run(transaction_);
    if (is_new_) return;
    db::Statement words(index_.database_, R"sql(
        INSERT INTO word (rowid, code, class_name, place, looks, notes)
        SELECT coil, code, class_name, place, looks, notes FROM entry WHERE coil = :coil)sql");
    words.bind(":coil", entry.coil).run(transaction_);
}

void SearchIndex::Change::remove(std::int64_t coil) {
    db::Statement words(index_.database_, R"sql(
        INSERT INTO word (word, rowid, code, class_name, place, looks, notes)
        SELECT 'delete', coil, code, class_name, place, looks, notes FROM entry
        WHERE coil = :coil)sql");
    words.bind(":coil", coil).run(transaction_);
    remove_.bind(":coil", coil).run(transaction_);
}

void SearchIndex::Change::finish(const SearchMark& mark) {
    if (is_new_) {
        transaction_.run_script("INSERT INTO word (word) VALUES ('rebuild');\n" +
                                script_of_indexes(false));
    }
    db::Statement put(index_.database_, R"sql(
        INSERT OR REPLACE INTO mark (one, act, seal) VALUES (1, :act, :seal))sql");
    put.bind(":act", mark.act).bind(":seal", mark.seal).run(transaction_);
    transaction_.commit();
}

namespace {

using Coils = std::vector<std::int64_t>;  // by number

struct Wanted {
    std::size_t shown;    // so many must be found, where there are so many
    std::size_t counted;  // further ones, as long as that does not take long: so many in all
};
struct Found {
    Coils coils;
    bool is_cut_short = false;  // it took long: there may be more
};

Coils all_coils(db::Statement& statement, std::size_t most) {
    Coils coils;
    for (auto rows = statement.rows(); coils.size() < most && rows.next();) {
        coils.push_back(rows.row().integer("coil"));
    }
    return coils;
}

// The coils of those rows for which `fits`, a function of a row, holds. To look at `many_rows` of
// them takes long.
template <class Fits>
Found sifted(db::Statement& statement, Wanted wanted, std::size_t many_rows, Fits fits) {
    Found found;
    std::size_t looked_at = 0;
    for (auto rows = statement.rows(); found.coils.size() < wanted.counted && rows.next();) {
        if (fits(rows.row())) found.coils.push_back(rows.row().integer("coil"));
        found.is_cut_short = ++looked_at >= many_rows && found.coils.size() > wanted.shown;
        if (found.is_cut_short) break;
    }
    return found;
}

// Ranges that more coils are in are all the same.
constexpr std::int64_t many = 10'000;
// So few coils are looked at one by one: 20 microseconds each, where a word that many coils have
// takes 0.2 for each of those.
constexpr std::size_t few = 400;
// Some 5 ms of looking, at words and at entries.
constexpr std::size_t many_words = 15'000;
constexpr std::size_t many_entries = 8'000;

// All ranges together, asked along the one that has the fewest coils.
class Ranges {
  public:
    Ranges(const db::Database& database, const std::vector<FigureRange>& ranges)
        : database_(database), ranges_(ranges) {
        for (const auto& range : ranges) {
            conditions_ += (conditions_.empty() ? "" : " AND ") + condition_of(range, "e");
            const auto count = coils_in(range);
            if (!narrowest_.empty() && count >= fewest_) continue;
            narrowest_ = name_of(range.figure);
            fewest_ = count;
        }
    }
    [[nodiscard]] bool are_narrow() const { return fewest_ < many; }
    [[nodiscard]] Coils coils(std::size_t most) const {
        db::Statement list(database_,
                           fmt::format("SELECT e.coil FROM entry AS e INDEXED BY entry_by_{} "
                                       "WHERE {}",
                                       narrowest_, conditions_));
        for (const auto& range : ranges_) bind_range(list, range);
        return all_coils(list, most);
    }
    // Those that have the words, too, in the order in which they came. CROSS: the words lead.
    [[nodiscard]] Found coils_along(const std::string& match, Wanted wanted) const {
        db::Statement list(database_,
                           fmt::format("SELECT e.coil, ifnull({}, 0) AS is_in "
                                       "FROM word CROSS JOIN entry AS e ON e.coil = word.rowid "
                                       "WHERE word MATCH :match",
                                       conditions_));
        list.bind(":match", match);
        for (const auto& range : ranges_) bind_range(list, range);
        return sifted(list, wanted, many_entries,
                      [](const db::Row& row) { return row.integer("is_in") != 0; });
    }

  private:
    [[nodiscard]] std::int64_t coils_in(const FigureRange& range) const {
        db::Statement count(database_,
                            fmt::format("SELECT count(*) AS n FROM (SELECT 1 FROM entry AS e "
                                        "INDEXED BY entry_by_{} WHERE {} LIMIT {})",
                                        name_of(range.figure), condition_of(range, "e"), many));
        bind_range(count, range);
        return *count.first([](const db::Row& row) { return row.integer("n"); });
    }

    const db::Database& database_;
    const std::vector<FigureRange>& ranges_;
    std::string conditions_, narrowest_;
    std::int64_t fewest_ = 0;
};

// Those of `candidates` that have the words.
Found with_words(const db::Database& database, Coils candidates, const std::string& match,
                 Wanted wanted) {
    std::ranges::sort(candidates);
    if (candidates.size() <= few) {
        db::Statement has(
            database, "SELECT rowid AS coil FROM word WHERE word MATCH :match AND rowid = :coil");
        std::erase_if(candidates, [&](std::int64_t coil) {
            return !has.bind(":match", match).bind(":coil", coil).first([](const db::Row&) {
                return true;
            });
        });
        return {std::move(candidates)};
    }
    db::Statement words(database, "SELECT rowid AS coil FROM word WHERE word MATCH :match");
    words.bind(":match", match);
    return sifted(words, wanted, many_words, [&](const db::Row& row) {
        return std::ranges::binary_search(candidates, row.integer("coil"));
    });
}

Found coils_found(const db::Database& database, const SearchQuery& query, Wanted wanted) {
    const auto match = match_of(query.words);
    if (query.ranges.empty()) {
        db::Statement list(
            database, match.empty() ? "SELECT coil FROM entry ORDER BY code"
                                    : "SELECT rowid AS coil FROM word WHERE word MATCH :match");
        if (!match.empty()) list.bind(":match", match);
        return {all_coils(list, wanted.counted)};
    }
    const Ranges ranges(database, query.ranges);
    if (match.empty()) return {ranges.coils(wanted.counted)};
    if (!ranges.are_narrow()) return ranges.coils_along(match, wanted);
    return with_words(database, ranges.coils(static_cast<std::size_t>(many)), match, wanted);
}

bool is_in(const Figures& figures, const std::vector<FigureRange>& ranges) {
    return std::ranges::all_of(ranges, [&](const FigureRange& range) {
        const auto value = figures[static_cast<std::size_t>(range.figure)];
        return value && (!range.from || *value >= *range.from) &&
               (!range.to || *value <= *range.to);
    });
}

}  // namespace

SearchAnswer SearchIndex::find(const SearchQuery& query) {
    const db::Snapshot one_moment(database_);
    SearchAnswer answer;
    if (query.words.size() == 1 && is_plain_text(query.words.front())) {
        db::Statement exact(database_, "SELECT * FROM entry WHERE code = :code");
        auto found = exact.bind(":code", query.words.front()).all(entry_from);
        for (auto& entry : found) {
            if (is_in(entry.figures, query.ranges)) answer.entries.push_back(std::move(entry));
        }
    }
    const auto exact = answer.entries.size();
    const auto shown = query.limit + exact;
    const auto [coils, is_cut_short] =
        coils_found(database_, query, {shown, std::max(shown, query.count_limit + 1)});
    db::Statement entry_of(database_, "SELECT * FROM entry WHERE coil = :coil");
    for (const auto coil : coils) {
        if (answer.entries.size() >= query.limit) break;
        const bool is_there = std::any_of(
            answer.entries.begin(), answer.entries.begin() + static_cast<std::ptrdiff_t>(exact),
            [&](const SearchEntry& each) { return each.coil == coil; });
        if (is_there) continue;
        if (auto entry = entry_of.bind(":coil", coil).first(entry_from)) {
            answer.entries.push_back(std::move(*entry));
        }
    }
    answer.is_counted = !is_cut_short && coils.size() <= query.count_limit;
    answer.count = std::min(is_cut_short ? coils.size() - 1 : coils.size(), query.count_limit);
    return answer;
}

std::vector<std::string> SearchIndex::damage() {
    auto found = database_.damage();
    try {
        db::Transaction transaction(database_);
        transaction.run_script("INSERT INTO word (word, rank) VALUES ('integrity-check', 1);");
    } catch (const Error& error) {
        found.emplace_back(error.what());
    }
    return found;
}

}  // namespace coilbook::store
