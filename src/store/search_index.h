// What a search of the bin goes through: of each coil its words and its measured figures, in a file
// of its own.
//
// It is derived: everything in it follows from the catalogue, so it may be thrown away and made
// again, is never backed up, and nothing that a person did stands in it alone. It says up to which
// act of which history it was made (the mark): where the catalogue has gone on, what changed is put
// in; where the history is another one (restored, merged, salvaged), all of it is made anew
// (app/find.h). Words are found by their beginnings, whatever their accents and case (SQLite's full
// text search); figures by ordered indexes, one for each. In the catalogue itself it would have
// been paid for by every backup, and by every change in its transaction. Leaves out what the
// program holds a coil to be: that changes with every confirmation.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "db/database.h"
#include "db/statement.h"
#include "db/transaction.h"

namespace coilbook::store {

// The figures that can be searched, in SI: kg/m, kg/m3, m, m/s (negative: it rises), m.
enum class Figure { weight_per_length, density, diameter, sink_rate, length };
inline constexpr std::size_t figure_count = 5;
using Figures = std::array<std::optional<double>, figure_count>;  // in the order of Figure

struct SearchEntry {
    std::int64_t coil = 0;  // its number in the catalogue's file
    std::string code;
    std::string class_name;  // confirmed; empty where none is
    std::string place;       // in words
    std::string looks;       // tint and taper
    std::string notes;
    Figures figures{};

    bool operator==(const SearchEntry&) const = default;
};

// The last act that the index knows of: its number, and its seal, which stands for all before it.
struct SearchMark {
    std::int64_t act = 0;
    std::string seal;

    bool operator==(const SearchMark&) const = default;
};

// Both ends included; an end that is missing is open.
struct FigureRange {
    Figure figure = Figure::weight_per_length;
    std::optional<double> from = {}, to = {};

    bool operator==(const FigureRange&) const = default;
};

// A coil is found when it has all words, as beginnings of words of it, and all figures in their
// ranges; one whose figure is not known is in no range.
struct SearchQuery {
    std::vector<std::string> words = {};
    std::vector<FigureRange> ranges = {};
    std::size_t limit = 50;          // entries at most
    std::size_t count_limit = 1000;  // counting ends there; once all entries are found, also where
                                     // it has taken some 5 ms
};

struct SearchAnswer {
    // The coil of just that code first. By words: in the order in which the coils came into the
    // catalogue; by figures alone: in that of the narrowest range; all of them: by code.
    std::vector<SearchEntry> entries;
    std::size_t count = 0;   // of all that were found, as far as they were counted
    bool is_counted = true;  // false: there are more than count
};

class SearchIndex {
  public:
    // The index in that file, which is made where it is missing, and made anew where it is of
    // another version or damaged. Throws Error where the file cannot be used.
    [[nodiscard]] static SearchIndex open(const std::filesystem::path& file);
    // One that is gone with this value.
    [[nodiscard]] static SearchIndex in_memory();

    // Nothing: it has not been made yet.
    [[nodiscard]] std::optional<SearchMark> mark();

    // A change of the index: whole with finish(), or not at all.
    class Change {
      public:
        // REQUIRES: no other change of this index. A new one throws all entries away, and puts the
        // words and figures in order at the end, which is many times quicker for a whole bin.
        Change(SearchIndex& index, bool is_new);
        // Puts an entry in the place of the coil's earlier one, if any.
        void put(const SearchEntry& entry);
        void remove(std::int64_t coil);
        void finish(const SearchMark& mark);

      private:
        SearchIndex& index_;
        bool is_new_;
        db::Transaction transaction_;
        db::Statement insert_;
        db::Statement remove_;
    };

    // Throws Error, also where the index is damaged. REQUIRES: at most one range for each figure.
    [[nodiscard]] SearchAnswer find(const SearchQuery& query);
    [[nodiscard]] std::size_t size();

    // What is wrong with it, in SQLite's words and those of its full text search; empty where
    // nothing is. Reads all of it.
    [[nodiscard]] std::vector<std::string> damage();

  private:
    explicit SearchIndex(db::Database database);

    db::Database database_;
};

}  // namespace coilbook::store
