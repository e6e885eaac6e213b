// The readings file: a table that a person filled in at the bench, one row a coil.
//
// Columns may stand in any order. Only `code` is required; an empty cell means 'not measured'. A
// head may give the unit of bare numbers, "sample_weight [gr]". Numbers have a decimal comma only
// in files whose separator is the semicolon. Rows come one at a time, in constant memory but for
// the codes seen so far. Whether an instrument's code is known is asked later, where it is used.
// Leaves out: whether the readings make sense together.
#pragma once

#include <cstddef>
#include <filesystem>
#include <istream>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "catalog/readings.h"
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

    // What a person should know about the header, though nothing is wrong: unknown columns.
    [[nodiscard]] const std::vector<Problem>& warnings() const { return warnings_; }

    // The next row, or nothing at the end. A code that stood in an earlier row is a Problem, also
    // if that row had others. Throws Error if the disk fails.
    [[nodiscard]] std::optional<ReadingsRowResult> next();

  private:
    explicit ReadingsFile(CsvReader reader) : reader_(std::move(reader)) {}
    [[nodiscard]] static Result<ReadingsFile> with_header(Result<CsvReader> reader);
    [[nodiscard]] std::optional<Problem> understand_header();
    [[nodiscard]] ReadingsRowResult row_from(const CsvRow& cells);
    void read_cell(std::string_view cell, std::size_t column, ReadingsRow& into,
                   std::vector<Problem>& problems);
    void read_code(std::string_view cell, ReadingsRow& into, std::vector<Problem>& problems);

    CsvReader reader_;
    std::vector<ColumnHead> heads_;
    std::vector<std::optional<ReadingField>> fields_;  // of each column
    std::vector<Problem> warnings_;
    std::map<std::string, std::size_t, std::less<>> line_of_code_;
};

}  // namespace coilbook::exchange
