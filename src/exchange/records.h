// A table of named cells in a file, written as CSV or as JSON: the same rows either way.
//
// JSON is a list of objects, each of which is a row: `[{"code": "A7", "notes": null}, …]`. A number
// is taken as it is written, digit by digit, since who reads it knows how exact it must be; true
// and false are `yes` and `no`. Which of the two a file is, is told by its first character.
// The file may be a stranger's: a row of more than 1 MiB (unless who reads it says more), lists or
// objects inside a cell, a name that stands twice in a row, NUL bytes and what is not UTF-8 are
// refused. Rows come one at a time, in constant memory. Text that a spreadsheet would run as a
// formula is written with an apostrophe before it, in CSV only, and read without it: guarded() and
// unguarded().
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "exchange/csv.h"

namespace coilbook::exchange {

struct RecordCell {
    std::string name;                 // of its column
    std::optional<std::string> text;  // nothing: null, or an empty cell

    bool operator==(const RecordCell&) const = default;
};

struct Record {
    std::size_t line;  // where it begins
    std::vector<RecordCell> cells;
};

enum class RecordFormat { csv, json };

// What is known of a file before its first row.
struct RecordsHead {
    RecordFormat format = RecordFormat::csv;
    std::vector<std::string> columns;  // of CSV, in lower case; JSON says them in each row
    char decimal_mark = '.';           // ',' may stand for it where CSV has semicolons
};

// Calls `begin` once and then `use` for every row, or for what is wrong with one (field:
// "FILE:LINE: COLUMN"). A Problem where the file cannot be read at all, where `begin` gives one,
// and where it cannot be read on, since then the rows of before are not all. Throws Error if the
// disk fails.
using RecordUse = std::function<void(Result<Record>&&)>;
using RecordBegin = std::function<Result<void>(const RecordsHead&)>;
[[nodiscard]] Result<void> read_records(const std::filesystem::path& file, const RecordBegin& begin,
                                        const RecordUse& use,
                                        std::size_t longest_row = longest_csv_row);
// The same from a stream; `name` stands for the file in Problems.
[[nodiscard]] Result<void> read_records(std::istream& stream, const std::string& name,
                                        const RecordBegin& begin, const RecordUse& use,
                                        std::size_t longest_row = longest_csv_row);

// `text` so that no spreadsheet runs it: an apostrophe before what begins, after any apostrophes,
// with = + - @, a tab or a carriage return; else as it is. Source: OWASP, "CSV Injection"
// (CWE-1236).
[[nodiscard]] std::string guarded(std::string_view text);
// Its inverse, for every text; also takes text that was never guarded, unless it begins so.
[[nodiscard]] std::string unguarded(std::string_view text);

}  // namespace coilbook::exchange
