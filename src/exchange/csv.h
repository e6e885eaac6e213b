// Tables in text files, as other programs write and read them: CSV of RFC 4180, in UTF-8.
//
// The reader takes what spreadsheets and people produce: with or without a byte order mark, rows
// that end with CRLF, LF or CR, cells with line breaks in quotes, comma or semicolon. The first row
// is the header. It goes row by row in constant memory and knows on which line each row begins.
// It forgives blank lines, rows of empty cells only, and rows that stop early (their last cells are
// empty); it refuses whatever could put a number into the wrong column.
// Leaves out: tabs as separators, other encodings than UTF-8, comments.
// Source: RFC 4180, section 2; the separator is the one thing added to it.
#pragma once

#include <cstddef>
#include <filesystem>
#include <istream>
#include <memory>
#include <optional>
#include <ostream>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace coilbook::exchange {

inline constexpr std::size_t longest_csv_row = 1024 * 1024;  // bytes, quotes included
inline constexpr std::size_t most_csv_columns = 1000;

// "12 MiB": a limit in words, in whole MiB.
[[nodiscard]] std::string mib(std::size_t bytes);

// `problem` with its place before its field: "FILE:LINE: FIELD", or "FILE: FIELD" for line 0.
[[nodiscard]] Problem in_file(std::string_view file, std::size_t line, Problem problem);

struct CsvRow {
    std::size_t line;                // where it begins, from 1; line breaks in cells are counted
    std::vector<std::string> cells;  // without quotes, as many as the header has, plain text

    bool operator==(const CsvRow&) const = default;
};

// Reads one table from its beginning to its end.
class CsvReader {
  public:
    // Reads the header. A Problem for a file that is missing, a directory, empty or not text, and
    // for a header that is no CSV row. The separator is the comma or the semicolon, whichever
    // occurs more often in the header outside quotes (within its first 64 KiB); the comma where
    // neither or both equally.
    [[nodiscard]] static Result<CsvReader> open(const std::filesystem::path& path);
    // The same from a stream, which must outlive the reader; `name` stands for the file in
    // Problems.
    [[nodiscard]] static Result<CsvReader> over(std::istream& stream, std::string name,
                                                std::size_t longest_row = longest_csv_row);

    CsvReader(CsvReader&&) noexcept;
    CsvReader& operator=(CsvReader&&) noexcept;
    ~CsvReader();

    [[nodiscard]] const std::string& name() const;
    [[nodiscard]] const CsvRow& header() const;
    [[nodiscard]] char separator() const;

    // The next row, or nothing at the end. A Problem's field is "FILE:LINE" or "FILE:LINE: COLUMN".
    // After a row with misplaced quotes, too many cells or bytes that are no UTF-8 the following
    // rows can still be read. After a NUL byte (no text file), a quote that is never closed and a
    // row over the limit they cannot: then next() gives nothing any more.
    // Throws Error if the stream fails while reading.
    [[nodiscard]] std::optional<Result<CsvRow>> next();
    // The same into a row that is used again, so that its memory is. After a Problem `row` is of
    // no use.
    [[nodiscard]] std::optional<Result<void>> next(CsvRow& row);

  private:
    class Parser;
    explicit CsvReader(std::unique_ptr<Parser> parser);
    std::unique_ptr<Parser> parser_;
};

// Writes one row, separated by commas. Cells are quoted where they must be: with a comma,
// semicolon, quote, LF or CR (also a CR alone), a blank at either end, or a byte order mark in
// front. Rows end with LF, unlike in RFC 4180: the output goes through terminals and line tools,
// where a CR would stick to the last cell, and every reader of CSV takes both.
// CsvReader gives the same cells back. REQUIRES: cells are plain text, and there is at least one.
void write_csv_row(std::ostream& out, std::span<const std::string> cells);

// One cell of such a row, at the end of `text`; the commas and the LF are the caller's. A row of a
// single empty cell is the one that this cannot write.
void append_csv_cell(std::string& text, std::string_view cell);

}  // namespace coilbook::exchange
