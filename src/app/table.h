// Rows of results, written the same way by every command: for people, for scripts, for programs.
//
// A command says its columns once and hands over rows; they come out as an aligned table, as CSV or
// as JSON. CSV and JSON are stable and exact and go out row by row; the table is rounded and waits
// for the last row, since its columns are as wide as their widest cell.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "exchange/json.h"

namespace coilbook::app {

enum class Format { table, csv, json };

// "table", "csv" or "json"; a Problem says so.
[[nodiscard]] Result<Format> format_from(std::string_view name);

// Nothing, a measured number, a count, or a text. Texts are plain text (base/text.h).
using Cell = std::variant<std::monostate, double, std::int64_t, std::string>;

// The cell of something that may be missing; infinite and not a number count as missing.
[[nodiscard]] Cell cell_of(std::optional<double> number);
// An empty text is a missing one.
[[nodiscard]] Cell cell_of(std::string text);

struct Column {
    std::string name;               // of the contract, unless the table is for people only
    bool is_right_aligned = false;  // in the table, where numbers are; these are never cut
    int figures = 4;                // of numbers in the table
    int dispensable = 0;  // where a terminal is too narrow, the highest goes first; 0: none
};

// Writes rows under fixed columns to a stream, which must outlive it.
class RowWriter {
  public:
    // `terminal_width`: in a table wider than this, texts are cut from the widest down to ten
    // columns each, and if that is not enough, dispensable columns are left out, which is told
    // below the table; 0 leaves all whole. The CSV header goes out at once.
    RowWriter(std::ostream& out, std::vector<Column> columns, Format format,
              std::size_t terminal_width = 0);

    // One row. `more` is an object whose keys follow those of the columns in JSON only.
    // REQUIRES: as many cells as columns.
    void add(const std::vector<Cell>& cells);
    void add(const std::vector<Cell>& cells, const exchange::Json& more);

    // The same in two steps, the first of which may be done on any thread: a row as CSV or JSON,
    // and putting it out. REQUIRES: the format is not table.
    [[nodiscard]] std::string rendered(const std::vector<Cell>& cells) const;
    [[nodiscard]] std::string rendered(const std::vector<Cell>& cells,
                                       const exchange::Json& more) const;
    void add_rendered(std::string_view row);

    // To be called once, after the last row. `note` is a line below a table, for people.
    void finish(std::string_view note = {});

  private:
    [[nodiscard]] std::string as_json(const std::vector<Cell>& cells,
                                      const exchange::Json& more) const;
    void write_table(std::string_view note);
    void write_table_line(const std::vector<std::string>& texts,
                          const std::vector<std::size_t>& widths);

    std::ostream& out_;
    std::vector<Column> columns_;
    Format format_;
    std::size_t terminal_width_;
    std::size_t row_count_ = 0;
    std::vector<std::vector<std::string>> table_;  // of a table: its head and rows so far
};

}  // namespace coilbook::app
