#include "exchange/records.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <istream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/error.h"
#include "base/text.h"
#include "exchange/column_head.h"

namespace coilbook::exchange {
namespace {

constexpr std::size_t most_json_cells = most_csv_columns;

// The characters of a JSON file, counted: since the row began, and lines.
struct Source {
    std::streambuf* characters;
    std::size_t longest_row;
    std::size_t since_row = 0;
    std::size_t line = 1;

    [[nodiscard]] bool is_too_long() const { return since_row > longest_row; }
    [[nodiscard]] bool has_ended() const {
        return is_too_long() || characters->sgetc() == std::char_traits<char>::eof();
    }
    void take() {
        if (characters->sbumpc() == '\n') ++line;
        ++since_row;
    }
};

// As the JSON library wants its input. It ends early where a row is too long.
class Characters {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = char;

    Characters() = default;
    explicit Characters(Source& source) : source_(&source) {}
    char operator*() const {
        return std::char_traits<char>::to_char_type(source_->characters->sgetc());
    }
    Characters& operator++() {
        source_->take();
        return *this;
    }
    Characters operator++(int) {
        auto before = *this;
        ++*this;
        return before;
    }
    friend bool operator==(const Characters& a, const Characters& b) {
        return a.has_ended() == b.has_ended();
    }
    friend bool operator!=(const Characters& a, const Characters& b) { return !(a == b); }

  private:
    [[nodiscard]] bool has_ended() const { return source_ == nullptr || source_->has_ended(); }
    Source* source_ = nullptr;
};

// Makes rows of what the JSON library sees, and keeps nothing else of it.
class Rows : public nlohmann::json_sax<nlohmann::json> {
  public:
    Rows(Source& source, const std::string& name, const RecordUse& use)
        : source_(source), name_(name), use_(use) {}

    // What stopped it; nothing where all was read.
    [[nodiscard]] const std::optional<Problem>& wrong() const { return wrong_; }

    bool null() override { return cell(std::nullopt); }
    bool boolean(bool yes) override { return cell(yes ? "yes" : "no"); }
    bool number_integer(number_integer_t number) override { return cell(std::to_string(number)); }
    bool number_unsigned(number_unsigned_t number) override { return cell(std::to_string(number)); }
    bool number_float(number_float_t, const string_t& written) override { return cell(written); }
    bool string(string_t& text) override { return cell(std::move(text)); }
    bool binary(binary_t&) override { return stop("binary data", "text"); }

    bool start_array(std::size_t) override {
        if (depth_ != 0) return stop("a list stands inside another value", "a text or a number");
        depth_ = 1;
        return true;
    }
    bool end_array() override { return true; }
    bool start_object(std::size_t) override {
        if (depth_ == 0) return stop("the file is one object", "a list of objects, [{…}, {…}]");
        if (depth_ == 2) return stop("an object stands inside another", "a text or a number");
        depth_ = 2;
        line_ = source_.line;
        source_.since_row = 0;
        return true;
    }
    bool key(string_t& name) override {
        if (cells_.size() >= most_json_cells) return stop("the row has too many cells", "fewer");
        cells_.emplace_back(lower_ascii(name), std::nullopt);
        return true;
    }
    bool end_object() override {
        depth_ = 1;
        Record record{line_, {}};
        std::optional<Problem> bad;
        for (const auto& each_cell : cells_) {
            const auto& name = each_cell.first;
            const auto& text = each_cell.second;
            const bool is_plain = is_plain_text(name) && (!text || is_plain_text(*text));
            const auto is_same = [&](const RecordCell& each) { return each.name == name; };
            if (!is_plain) bad = Problem{name, "this is no plain text", "text without NUL bytes"};
            if (std::ranges::any_of(record.cells, is_same)) {
                bad = Problem{name, "the name stands twice in this row", "every name once"};
            }
            record.cells.push_back({name, text && text->empty() ? std::nullopt : text});
        }
        use_(bad ? Result<Record>(tl::unexpected(in_file(name_, line_, std::move(*bad))))
                 : Result<Record>(std::move(record)));
        cells_.clear();
        source_.since_row = 0;
        return true;
    }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override {
        if (source_.is_too_long()) {
            return stop("the row that begins on line " + std::to_string(line_) +
                            " is longer than " + mib(source_.longest_row),
                        "shorter texts");
        }
        return stop("this is not JSON", "a list of objects, [{\"code\": \"A7\"}, {…}], in UTF-8");
    }

  private:
    bool cell(std::optional<std::string> text) {
        if (depth_ != 2) return stop("a value stands outside a row", "a list of objects");
        cells_.back().second = std::move(text);
        return true;
    }
    bool stop(std::string sentence, std::string suggestion) {
        wrong_ = in_file(name_, source_.line, {"", std::move(sentence), std::move(suggestion)});
        return false;
    }

    Source& source_;
    const std::string& name_;
    const RecordUse& use_;
    int depth_ = 0;  // 1: in the list, 2: in a row
    std::size_t line_ = 1;
    std::vector<std::pair<std::string, std::optional<std::string>>> cells_;
    std::optional<Problem> wrong_;
};

Result<void> read_json(std::istream& stream, const std::string& name, const RecordBegin& begin,
                       const RecordUse& use, std::size_t longest_row) {
    if (auto begun = begin({.format = RecordFormat::json, .columns = {}}); !begun) return begun;
    Source source{.characters = stream.rdbuf(), .longest_row = longest_row};
    Rows rows(source, name, use);
    const bool is_whole = nlohmann::json::sax_parse(Characters(source), Characters(), &rows);
    if (!is_whole) {
        return tl::unexpected(rows.wrong().value_or(Problem{name, "this is not JSON", "JSON"}));
    }
    return {};
}

Result<void> read_csv(std::istream& stream, const std::string& name, const RecordBegin& begin,
                      const RecordUse& use, std::size_t longest_row) {
    auto reader = CsvReader::over(stream, name, longest_row);
    if (!reader) return tl::unexpected(reader.error());
    const auto heads = column_heads_from(reader->header().cells);
    if (!heads) return tl::unexpected(in_file(name, reader->header().line, heads.error()));
    RecordsHead head{.format = RecordFormat::csv, .columns = {}};
    head.decimal_mark = reader->separator() == ';' ? ',' : '.';
    for (const auto& each : *heads) head.columns.push_back(each.name);
    if (auto begun = begin(head); !begun) {
        return tl::unexpected(in_file(name, reader->header().line, begun.error()));
    }
    while (auto row = reader->next()) {
        if (!*row) {
            use(tl::unexpected(row->error()));
            continue;
        }
        Record record{(*row)->line, {}};
        for (std::size_t i = 0; i < head.columns.size(); ++i) {
            auto& cell = (*row)->cells[i];
            record.cells.push_back(
                {head.columns[i], cell.empty() ? std::nullopt : std::optional(std::move(cell))});
        }
        use(std::move(record));
    }
    return {};
}

// How many apostrophes stand before a sign that makes a spreadsheet calculate; nothing where none
// does.
std::optional<std::size_t> apostrophes_before_formula(std::string_view text) {
    const auto first = text.find_first_not_of('\'');
    if (first == std::string_view::npos) return std::nullopt;
    if (std::string_view("=+-@\t\r").find(text[first]) == std::string_view::npos) {
        return std::nullopt;
    }
    return first;
}

}  // namespace

Result<void> read_records(std::istream& stream, const std::string& name, const RecordBegin& begin,
                          const RecordUse& use, std::size_t longest_row) {
    constexpr std::array<int, 3> byte_order_mark{0xEF, 0xBB, 0xBF};
    if (stream.peek() == byte_order_mark[0]) {
        for (const int byte : byte_order_mark) {
            if (stream.get() != byte) {
                return tl::unexpected(in_file(name, 1, {"", "the file is no text", "UTF-8"}));
            }
        }
    }
    const int first = stream.peek();
    if (first == '[' || first == '{') return read_json(stream, name, begin, use, longest_row);
    stream.clear();
    return read_csv(stream, name, begin, use, longest_row);
}

Result<void> read_records(const std::filesystem::path& file, const RecordBegin& begin,
                          const RecordUse& use, std::size_t longest_row) {
    const auto name = file.string();
    std::error_code none;
    if (std::filesystem::is_directory(file, none)) {
        return tl::unexpected(in_file(name, 0, {"", "this is a folder", "a CSV or JSON file"}));
    }
    std::ifstream stream(file, std::ios::binary);
    if (!stream) {
        return tl::unexpected(in_file(
            name, 0, {"", "the file is not there or cannot be read", "a CSV or JSON file"}));
    }
    return read_records(stream, name, begin, use, longest_row);
}

std::string guarded(std::string_view text) {
    return (apostrophes_before_formula(text) ? "'" : "") + std::string(text);
}

std::string unguarded(std::string_view text) {
    if (apostrophes_before_formula(text).value_or(0) > 0) text.remove_prefix(1);
    return std::string(text);
}

}  // namespace coilbook::exchange
