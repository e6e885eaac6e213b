// The readings file: a table that a person filled in at the bench, one row a coil.
//
// Columns may stand in any order. Only `code` is required; an empty cell means 'not measured'. A
// head may give the unit of bare numbers, "sample_weight [gr]". Numbers have a decimal comma only
// in files whose separator is the semicolon. Rows come one at a time, in constant memory (of a
// stream, 32 bytes for each code seen: codes_seen.h). Whether an instrument's code is known is
// asked later, where it is used. Leaves out: whether the readings make sense together.
#pragma once

#include <cstddef>
#include <filesystem>
#include <istream>
#include <optional>
#include <string>
#include <vector>

#include "catalog/readings.h"
#include "exchange/codes_seen.h"
#include "exchange/column_head.h"
#include "exchange/csv.h"
#include "exchange/written_readings.h"

namespace coilbook::exchange {

struct ReadingsRow {
    std::size_t line;  // where it begins in the file
    std::string code;
    CoilReadings readings;  // all values together, with the instruments' codes
    std::string notes;  // the notes column, then "head: cell" of unknown columns, joined by "; "
    std::vector<RawReading> raw;  // the same values one by one, in the order of the columns

    bool operator==(const ReadingsRow&) const = default;
};

// A row, or everything that is wrong with it: at least one Problem, each with its place in its
// field, "FILE:LINE: COLUMN".
using ReadingsRowResult = tl::expected<ReadingsRow, std::vector<Problem>>;

class ReadingsFile {
  public:
    // Reads the header. A Problem for what CsvReader refuses, for a header without `code`, for a
    // column that stands twice and for a unit that its column cannot have.
    [[nodiscard]] static Result<ReadingsFile> open(const std::filesystem::path& path);
    // The same from a stream, which must outlive the file; `name` stands for it in Problems.
    [[nodiscard]] static Result<ReadingsFile> over(std::istream& stream, std::string name);

    // What a person should know about the header, though nothing is wrong: unknown
    // columns, and the known one that each may have been meant for.
    [[nodiscard]] const std::vector<Problem>& warnings() const { return warnings_; }

    // The next row, or nothing at the end. A code that stood in an earlier row is a Problem, also
    // if that row had others. Throws Error if the disk fails.
    [[nodiscard]] std::optional<ReadingsRowResult> next();

    // The two halves of next(), for those who read rows on several threads, into rows that are used
    // again: next_cells() gives what stands in the next row, and understand() what that means, from
    // any thread; with `in_words` also `raw`. A code that stood earlier is then the caller's to
    // find, by repeated_code() on each row in turn; expect_code() on some dozens of rows before
    // makes that faster.
    [[nodiscard]] std::optional<Result<void>> next_cells(CsvRow& row) { return reader_.next(row); }
    [[nodiscard]] tl::expected<void, std::vector<Problem>> understand(const CsvRow& cells,
                                                                      bool in_words,
                                                                      ReadingsRow& row) const;
    void expect_code(const CsvRow& cells) const;
    [[nodiscard]] std::optional<Problem> repeated_code(const CsvRow& cells);

  private:
    explicit ReadingsFile(CsvReader reader) : reader_(std::move(reader)) {}
    [[nodiscard]] static Result<ReadingsFile> with_header(Result<CsvReader> reader);
    [[nodiscard]] std::optional<Problem> understand_header();
    void read_cell(std::string_view cell, std::size_t column, bool in_words, ReadingsRow& into,
                   std::vector<Problem>& problems) const;

    CsvReader reader_;
    std::vector<ColumnHead> heads_;
    std::size_t code_column_ = 0;
    std::vector<std::optional<ReadingField>> fields_;  // of each column
    std::vector<Problem> warnings_;
    CodesSeen codes_;
};

}  // namespace coilbook::exchange
