#include "app/table.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>
#include <numeric>
#include <utility>

#include "app/csv_row_text.h"
#include "app/text_width.h"
#include "base/text.h"
#include "exchange/csv.h"
#include "quantity/print.h"

namespace coilbook::app {
namespace {

constexpr std::size_t narrowest_cut = 10;
constexpr std::string_view between_columns = "  ";

// Joins several lambdas into one visitor.
template <class... Each>
struct Visitor : Each... {
    using Each::operator()...;
};

void append_csv(std::string& text, const Cell& cell) {
    std::visit(Visitor{[](std::monostate) {}, [&](double number) { append_shortest(text, number); },
                       [&](std::int64_t count) { append_shortest(text, count); },
                       [&](const std::string& words) { exchange::append_csv_cell(text, words); }},
               cell);
}

exchange::Json json_value(const Cell& cell) {
    return std::visit(
        Visitor{[](std::monostate) { return exchange::Json(nullptr); },
                [](double number) { return exchange::json_from(std::optional(number)); },
                [](std::int64_t count) { return exchange::Json(count); },
                [](const std::string& text) { return exchange::Json(text); }},
        cell);
}

std::string table_text(const Cell& cell, const Column& column) {
    return std::visit(Visitor{[](std::monostate) { return std::string(); },
                              [&](double number) { return significant(number, column.figures); },
                              [](std::int64_t count) { return std::to_string(count); },
                              [](const std::string& text) { return on_one_line(text); }},
                      cell);
}

constexpr std::size_t left_out = 0;  // the width of a column that is not shown

// The room that columns of these widths take side by side.
std::size_t room_for(const std::vector<std::size_t>& widths) {
    std::size_t room = 0;
    for (const auto width : widths) {
        if (width != left_out) room += width + (room > 0 ? between_columns.size() : 0);
    }
    return room;
}

// Takes from the widest texts until all fit into `room`, or none can give more.
void narrow_texts(std::vector<std::size_t>& widths, const std::vector<Column>& columns,
                  std::size_t room) {
    while (room_for(widths) > room) {
        std::size_t* widest = nullptr;
        for (std::size_t i = 0; i < widths.size(); ++i) {
            if (columns[i].is_right_aligned || widths[i] <= narrowest_cut) continue;
            if (!widest || widths[i] > *widest) widest = &widths[i];
        }
        if (!widest) return;
        --*widest;
    }
}

// The widths in which the columns are shown in `room`; some may be left out.
std::vector<std::size_t> widths_in(std::size_t room, const std::vector<std::size_t>& whole,
                                   std::vector<Column> columns) {
    auto kept = whole;
    while (true) {
        auto widths = kept;
        narrow_texts(widths, columns, room);
        const auto next = std::ranges::max_element(columns, {}, &Column::dispensable);
        if (room_for(widths) <= room || next == columns.end() || next->dispensable == 0) {
            return widths;
        }
        next->dispensable = 0;
        kept[static_cast<std::size_t>(next - columns.begin())] = left_out;
    }
}

}  // namespace

Result<Format> format_from(std::string_view name) {
    constexpr std::array names{std::pair{"table", Format::table}, std::pair{"csv", Format::csv},
                               std::pair{"json", Format::json}};
    for (const auto& [each, format] : names) {
        if (name == each) return format;
    }
    return problem("format", quoted(name) + " is not a format", "table, csv or json");
}

Cell cell_of(std::optional<double> number) {
    if (!number || !std::isfinite(*number)) return std::monostate{};
    return *number;
}

Cell cell_of(std::string text) {
    if (text.empty()) return std::monostate{};
    return text;
}

RowWriter::RowWriter(std::ostream& out, std::vector<Column> columns, Format format,
                     std::size_t terminal_width)
    : out_(out), columns_(std::move(columns)), format_(format), terminal_width_(terminal_width) {
    std::vector<std::string> names;
    for (const auto& column : columns_) names.push_back(column.name);
    if (format_ == Format::csv) exchange::write_csv_row(out_, names);
    if (format_ == Format::table) table_.push_back(names);
}

void RowWriter::add(const std::vector<Cell>& cells) {
    add(cells, {});
}

void RowWriter::add(const std::vector<Cell>& cells, const exchange::Json& more) {
    assert(cells.size() == columns_.size() && "every column has its cell");
    if (format_ != Format::table) return add_rendered(rendered(cells, more));
    ++row_count_;
    std::vector<std::string> texts;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        texts.push_back(table_text(cells[i], columns_[i]));
    }
    table_.push_back(std::move(texts));
}

std::string RowWriter::rendered(const std::vector<Cell>& cells) const {
    return rendered(cells, {});
}

std::string RowWriter::rendered(const std::vector<Cell>& cells, const exchange::Json& more) const {
    assert(cells.size() == columns_.size() && "every column has its cell");
    if (format_ == Format::json) return as_json(cells, more);
    std::string row;
    row.reserve(400);
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (i > 0) row += ',';
        append_csv(row, cells[i]);
    }
    if (row.empty() && cells.size() == 1) row = "\"\"";
    row += '\n';
    return row;
}

void RowWriter::add_rendered(std::string_view row) {
    ++row_count_;
    if (format_ == Format::json) out_ << (row_count_ == 1 ? "[\n" : ",\n");
    out_ << row;
}

std::string RowWriter::as_json(const std::vector<Cell>& cells, const exchange::Json& more) const {
    auto object = exchange::Json::object();
    for (std::size_t i = 0; i < cells.size(); ++i) {
        object[columns_[i].name] = json_value(cells[i]);
    }
    if (more.is_object()) object.update(more);
    return exchange::to_text(object);
}

void RowWriter::finish(std::string_view note) {
    switch (format_) {
        case Format::csv:
            break;
        case Format::json:
            out_ << (row_count_ == 0 ? "[]\n" : "\n]\n");
            break;
        case Format::table:
            write_table(note);
            break;
    }
    out_.flush();
}

void RowWriter::write_table(std::string_view note) {
    std::vector<std::size_t> whole(columns_.size(), 0);
    for (const auto& row : table_) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            whole[i] = std::max(whole[i], app::terminal_width(row[i]));
        }
    }
    const auto widths = terminal_width_ > 0 ? widths_in(terminal_width_, whole, columns_) : whole;
    for (const auto& row : table_) write_table_line(row, widths);
    if (row_count_ == 0) return;
    if (!note.empty()) out_ << '\n' << note << '\n';
    if (std::ranges::count(widths, left_out) > std::ranges::count(whole, left_out)) {
        out_ << "Columns were left out; a wider terminal or --format csv shows all.\n";
    }
}

void RowWriter::write_table_line(const std::vector<std::string>& texts,
                                 const std::vector<std::size_t>& widths) {
    std::string line;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        if (widths[i] == left_out) continue;
        const auto text = cut_to_width(texts[i], widths[i]);
        const std::string padding(widths[i] - app::terminal_width(text), ' ');
        if (!line.empty()) line += between_columns;
        line += columns_[i].is_right_aligned ? padding + text : text + padding;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out_ << line << '\n';
}

}  // namespace coilbook::app
