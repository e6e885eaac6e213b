#include "exchange/csv.h"

#include <csv.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <system_error>
#include <utility>

#include "base/error.h"
#include "base/text.h"

namespace coilbook::exchange {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
constexpr const char* text_expected = "CSV text in UTF-8; a spreadsheet has to be exported as that";

int never_a_blank(unsigned char) {
    return 0;  // RFC 4180: blanks are part of a cell
}

// libcsv's parser, made and freed as one value.
class Machine {
  public:
    explicit Machine(char separator) {
        if (csv_init(&machine_, CSV_STRICT | CSV_STRICT_FINI) != 0) throw std::bad_alloc();
        csv_set_delim(&machine_, static_cast<unsigned char>(separator));
        csv_set_space_func(&machine_, never_a_blank);
        csv_set_blk_size(&machine_, 4096);
    }
    Machine(const Machine&) = delete;
    Machine& operator=(const Machine&) = delete;
    ~Machine() { csv_free(&machine_); }

    [[nodiscard]] csv_parser* get() { return &machine_; }

  private:
    csv_parser machine_;
};

char more_frequent_separator(std::string_view text) {
    std::size_t commas = 0;
    std::size_t semicolons = 0;
    bool in_quotes = false;
    text.remove_prefix(std::min(text.find_first_not_of("\r\n"), text.size()));
    for (const char c : text) {
        if (c == '"') in_quotes = !in_quotes;
        if (in_quotes) continue;
        if (c == '\n' || c == '\r') break;
        commas += c == ',';
        semicolons += c == ';';
    }
    return semicolons > commas ? ';' : ',';
}

// Where the line that `text` begins with ends: at its LF or CR, or nowhere. Looks for both in short
// pieces, so that a file with only one of them is not gone through for the other again and again.
std::size_t end_of_line(std::string_view text) {
    constexpr std::size_t piece = 256;
    for (std::size_t from = 0; from < text.size(); from += piece) {
        const auto here = text.substr(from, piece);
        const auto lf = here.find('\n');
        const auto cr = here.substr(0, lf).find('\r');
        if (const auto end = std::min(lf, cr); end != std::string_view::npos) return from + end;
    }
    return std::string_view::npos;
}

// Whether all of it is ASCII without NUL bytes, as most rows are: then it is plain text.
bool is_plain_ascii(std::string_view text) {
    bool is_other = false;  // without leaving early, so that many bytes are looked at at once
    for (const char c : text) is_other |= static_cast<signed char>(c) <= 0;
    return !is_other;
}

}  // namespace

std::string mib(std::size_t bytes) {
    return std::to_string(bytes / (std::size_t{1024} * 1024)) + " MiB";
}

Problem in_file(std::string_view file, std::size_t line, Problem problem) {
    std::string place(file);
    if (line > 0) place += ":" + std::to_string(line);
    problem.field = problem.field.empty() ? place : place + ": " + problem.field;
    return problem;
}

// Feeds libcsv one line of the file at a time, so that a row ends with a line that was fed and its
// first line is known.
class CsvReader::Parser {
  public:
    Parser(std::unique_ptr<std::istream> owned, std::istream& stream, std::string file,
           std::size_t longest_row)
        : name(std::move(file)),
          owned_(std::move(owned)),
          stream_(stream),
          longest_row_(longest_row) {}

    // Reads as far as the header. Returns what is wrong with it, if anything.
    [[nodiscard]] std::optional<Problem> begin();
    [[nodiscard]] std::optional<Result<void>> next(CsvRow& row);

    std::string name;
    CsvRow header;
    char separator = ',';

  private:
    [[nodiscard]] bool fill();
    [[nodiscard]] std::string_view take_line_or_part();
    [[nodiscard]] std::optional<Result<void>> last_row();
    [[nodiscard]] std::optional<Result<void>> next_of_any_width(CsvRow& row);
    [[nodiscard]] Result<void> finished_row();
    [[nodiscard]] Result<void> checked(const CsvRow& row);
    [[nodiscard]] tl::unexpected<Problem> refuse(std::size_t line, std::string sentence,
                                                 std::string suggestion);
    void start_over();

    static void on_cell(void* text, std::size_t size, void* self);
    static void on_row(int, void* self);

    std::unique_ptr<std::istream> owned_;
    std::istream& stream_;
    const std::size_t longest_row_;
    std::array<char, 64 * 1024> buffer_;
    std::string_view unread_;  // of the buffer
    std::optional<Machine> machine_;

    std::size_t line_ = 1;   // of the next unread byte
    bool after_cr_ = false;  // the last byte taken was a CR: an LF now belongs to it
    CsvRow* row_ = nullptr;  // under way; may have more cells, left from its last use
    std::size_t row_bytes_ = 0;
    bool row_is_ascii_ = true;
    bool in_row_ = false;
    bool skips_line_ = false;  // the rest of the present line belongs to a refused row
    bool row_is_done_ = false;
    std::size_t cell_count_ = 0;  // with those over the limit, which are not kept
    bool has_ended_ = false;
};

void CsvReader::Parser::on_cell(void* text, std::size_t size, void* self) {
    auto& parser = *static_cast<Parser*>(self);
    ++parser.cell_count_;
    if (parser.cell_count_ > most_csv_columns) return;
    auto& cells = parser.row_->cells;
    if (parser.cell_count_ > cells.size()) cells.emplace_back();
    cells[parser.cell_count_ - 1].assign(text ? static_cast<const char*>(text) : "", size);
}

void CsvReader::Parser::on_row(int, void* self) {
    static_cast<Parser*>(self)->row_is_done_ = true;
}

// Puts the next bytes into the buffer; false at the end of the stream.
bool CsvReader::Parser::fill() {
    stream_.read(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
    if (stream_.bad()) throw Error("reading " + name + ": the file cannot be read further");
    unread_ = {buffer_.data(), static_cast<std::size_t>(stream_.gcount())};
    return !unread_.empty();
}

// A line with its end, or as much of one as the buffer has; counts lines.
std::string_view CsvReader::Parser::take_line_or_part() {
    const auto end = end_of_line(unread_);
    const auto taken = unread_.substr(0, end == std::string_view::npos ? end : end + 1);
    unread_.remove_prefix(taken.size());
    return taken;
}

void CsvReader::Parser::start_over() {
    machine_.emplace(separator);
    in_row_ = false;
    row_is_done_ = false;
    row_bytes_ = 0;
    row_is_ascii_ = true;
    cell_count_ = 0;
}

tl::unexpected<Problem> CsvReader::Parser::refuse(std::size_t line, std::string sentence,
                                                  std::string suggestion) {
    start_over();
    return tl::unexpected(in_file(name, line, {"", std::move(sentence), std::move(suggestion)}));
}

std::optional<Result<void>> CsvReader::Parser::next_of_any_width(CsvRow& row) {
    row_ = &row;
    while (!has_ended_) {
        if (unread_.empty() && !fill()) return last_row();
        const auto text = take_line_or_part();
        const bool ends_line = text.back() == '\n' || text.back() == '\r';
        const bool is_rest_of_crlf = after_cr_ && text == "\n";
        const std::size_t line = line_;
        if (ends_line && !is_rest_of_crlf) ++line_;
        after_cr_ = text.back() == '\r';
        if (skips_line_) {
            skips_line_ = !ends_line;
            continue;
        }
        if (!in_row_) {
            if (text == "\n" || text == "\r") continue;
            row.line = line;
            in_row_ = true;
        }
        row_bytes_ += text.size();
        row_is_ascii_ = row_is_ascii_ && is_plain_ascii(text);
        if (row_bytes_ > longest_row_) {
            has_ended_ = true;
            return refuse(row.line, "the row that begins here is longer than " + mib(longest_row_),
                          "shorter rows; perhaps a quote that opens a cell is never closed");
        }
        const auto fed =
            csv_parse(machine_->get(), text.data(), text.size(), on_cell, on_row, this);
        if (fed != text.size()) {
            skips_line_ = !ends_line;
            return refuse(line, "a quote stands where none may be",
                          "quotes around the whole cell and doubled inside it, as \"12' 3\"\"\"");
        }
        if (row_is_done_) return finished_row();
    }
    return std::nullopt;
}

// The row that no line end closes.
std::optional<Result<void>> CsvReader::Parser::last_row() {
    has_ended_ = true;
    if (!in_row_) return std::nullopt;
    if (csv_fini(machine_->get(), on_cell, on_row, this) != 0) {
        return refuse(row_->line, "a quote is opened in the row that begins here and never closed",
                      "a closing quote");
    }
    return finished_row();
}

// The row under way, all of which was fed.
Result<void> CsvReader::Parser::finished_row() {
    const auto count = cell_count_;
    if (count > most_csv_columns) {
        return refuse(row_->line, "the row has " + std::to_string(count) + " cells",
                      "at most " + std::to_string(most_csv_columns) + " columns");
    }
    row_->cells.resize(count);
    const bool is_surely_text = row_is_ascii_;
    in_row_ = row_is_done_ = false;
    row_bytes_ = cell_count_ = 0;
    row_is_ascii_ = true;
    if (is_surely_text) return {};
    return checked(*row_);
}

// Whether all of the row is text.
Result<void> CsvReader::Parser::checked(const CsvRow& row) {
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const auto& cell = row.cells[i];
        if (cell.find('\0') != std::string::npos) {
            has_ended_ = true;
            return tl::unexpected(
                in_file(name, row.line, {"", "this is no text but a binary file", text_expected}));
        }
        if (!is_plain_text(cell)) {
            std::string column = "column " + std::to_string(i + 1);
            if (i < header.cells.size()) column = header.cells[i];
            return tl::unexpected(in_file(
                name, row.line, {column, coilbook::quoted(cell) + " is not UTF-8", text_expected}));
        }
    }
    return {};
}

std::optional<Problem> CsvReader::Parser::begin() {
    if (!fill()) {
        return in_file(name, 0, {"", "the file is empty", "a table with a header row"});
    }
    if (unread_.starts_with("\xFF\xFE") || unread_.starts_with("\xFE\xFF")) {
        return in_file(name, 1, {"", "the file is UTF-16", text_expected});
    }
    if (unread_.starts_with(byte_order_mark)) unread_.remove_prefix(byte_order_mark.size());
    separator = more_frequent_separator(unread_);
    start_over();
    CsvRow first;
    const auto read = next_of_any_width(first);
    if (!read) return in_file(name, 0, {"", "the file has no rows", "a table with a header row"});
    if (!*read) return read->error();
    header = std::move(first);
    return std::nullopt;
}

std::optional<Result<void>> CsvReader::Parser::next(CsvRow& row) {
    while (auto read = next_of_any_width(row)) {
        if (!*read) return read;
        if (std::ranges::all_of(row.cells, &std::string::empty)) continue;
        if (row.cells.size() > header.cells.size()) {
            return tl::unexpected(
                in_file(name, row.line,
                        {"",
                         "the row has " + std::to_string(row.cells.size()) +
                             " cells and the header only " + std::to_string(header.cells.size()),
                         separator == ',' ? "a decimal point, or quotes around a cell with a comma"
                                          : "quotes around a cell with a semicolon"}));
        }
        row.cells.resize(header.cells.size());
        return read;
    }
    return std::nullopt;
}

CsvReader::CsvReader(std::unique_ptr<Parser> parser) : parser_(std::move(parser)) {}
CsvReader::CsvReader(CsvReader&&) noexcept = default;
CsvReader& CsvReader::operator=(CsvReader&&) noexcept = default;
CsvReader::~CsvReader() = default;

Result<CsvReader> CsvReader::open(const std::filesystem::path& path) {
    const auto name = path.string();
    const auto refuse = [&](std::string sentence) {
        return tl::unexpected(in_file(name, 0, {"", std::move(sentence), "a CSV file"}));
    };
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (status.type() == std::filesystem::file_type::not_found) {
        return refuse("there is no such file");
    }
    if (std::filesystem::is_directory(status)) return refuse("this is a directory");
    errno = 0;
    auto file = std::make_unique<std::ifstream>(path, std::ios::binary);
    if (!*file) {
        return refuse("the file cannot be opened (" +
                      std::generic_category().message(errno ? errno : error.value()) + ")");
    }
    auto& stream = *file;
    auto parser = std::make_unique<Parser>(std::move(file), stream, name, longest_csv_row);
    if (auto problem = parser->begin()) return tl::unexpected(std::move(*problem));
    return CsvReader(std::move(parser));
}

Result<CsvReader> CsvReader::over(std::istream& stream, std::string name, std::size_t longest_row) {
    auto parser = std::make_unique<Parser>(nullptr, stream, std::move(name), longest_row);
    if (auto problem = parser->begin()) return tl::unexpected(std::move(*problem));
    return CsvReader(std::move(parser));
}

const std::string& CsvReader::name() const {
    return parser_->name;
}
const CsvRow& CsvReader::header() const {
    return parser_->header;
}
char CsvReader::separator() const {
    return parser_->separator;
}
std::optional<Result<CsvRow>> CsvReader::next() {
    CsvRow row{};
    const auto read = parser_->next(row);
    if (!read) return std::nullopt;
    if (!*read) return tl::unexpected(read->error());
    return row;
}
std::optional<Result<void>> CsvReader::next(CsvRow& row) {
    return parser_->next(row);
}

void append_csv_cell(std::string& text, std::string_view cell) {
    const auto is_blank = [](char c) { return c == ' ' || c == '\t'; };
    const auto is_special = [](char c) {
        return c == ',' || c == ';' || c == '"' || c == '\r' || c == '\n';
    };
    const bool has_blank_end = !cell.empty() && (is_blank(cell.front()) || is_blank(cell.back()));
    const bool needs_quotes =
        has_blank_end || cell.starts_with(byte_order_mark) || std::ranges::any_of(cell, is_special);
    if (!needs_quotes) {
        text += cell;
        return;
    }
    const auto before = text.size();
    text.resize(before + 2 * cell.size() + 2);
    text.resize(before +
                csv_write(text.data() + before, text.size() - before, cell.data(), cell.size()));
}

void write_csv_row(std::ostream& out, std::span<const std::string> cells) {
    assert(!cells.empty() && "a row has at least one cell");
    std::string text;
    for (const auto& cell : cells) {
        if (&cell != &cells.front()) text += ',';
        append_csv_cell(text, cell);
    }
    if (text.empty() && cells.size() == 1) text = "\"\"";
    out << text << '\n';
}

}  // namespace coilbook::exchange
