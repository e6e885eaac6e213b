// A row of CSV that is put together cell by cell at the end of a text: what RowWriter::rendered()
// (table.h) gives, for rows by the million, without a list of cells in between.
#pragma once

#include <fmt/compile.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <string_view>

#include "exchange/csv.h"

namespace coilbook::app {

// The shortest digits that give the same number again.
void append_shortest(std::string& text, auto number) {
    std::array<char, 32> digits;
    const char* end = fmt::format_to(digits.data(), FMT_COMPILE("{}"), number);
    text.append(digits.data(), static_cast<std::size_t>(end - digits.data()));
}

class CsvRowText {
  public:
    // `text` must outlive this. REQUIRES: the row has two cells or more.
    explicit CsvRowText(std::string& text) : text_(text) {}

    // Each adds one cell. What cell_of() (table.h) calls missing is an empty one here, too.
    void add(double number) {
        begin_cell();
        if (std::isfinite(number)) append_shortest(text_, number);
    }
    void add(std::int64_t count) {
        begin_cell();
        append_shortest(text_, count);
    }
    void add(std::string_view words) {
        begin_cell();
        exchange::append_csv_cell(text_, words);
    }
    void add_missing() { begin_cell(); }
    void end() { text_ += '\n'; }

  private:
    void begin_cell() {
        if (has_cells_) text_ += ',';
        has_cells_ = true;
    }

    std::string& text_;
    bool has_cells_ = false;
};

}  // namespace coilbook::app
