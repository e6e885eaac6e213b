#include "exchange/readings_file.h"

#include <algorithm>
#include <array>
#include <system_error>
#include <utility>

#include "base/text.h"
#include "catalog/coil.h"
#include "catalog/given_code.h"
#include "catalog/read_into.h"
#include "exchange/written_readings.h"

namespace coilbook::exchange {
namespace {

CodesSeen::ReadAgain reading_again(const std::filesystem::path& path, std::size_t code_column) {
    return [path, code_column](const CodesSeen::Visit& visit) {
        auto again = CsvReader::open(path);
        if (!again) return;  // it is gone: the first reading goes on, and nothing stands in it
        while (const auto row = again->next()) {
            if (!*row) continue;
            const auto code = trimmed((*row)->cells[code_column]);
            if (!code.empty() && !visit(code, (*row)->line)) return;
        }
    };
}

// The columns besides the fields of readings.
constexpr std::array<std::string_view, 5> not_measured{"code", "scale", "tape", "micrometer",
                                                       "notes"};

// The known column that an unknown one may have been meant for, "perhaps 'sample_length'"; empty
// where none is near that the file does not have anyway. The first letter is seldom wrong, and
// without it 'date' would be near 'tape'.
std::string perhaps_meant(const std::string& name, const std::vector<ColumnHead>& heads) {
    std::vector<std::string> known(not_measured.begin(), not_measured.end());
    for (const auto field : all_reading_fields) known.emplace_back(name_of(field));
    std::erase_if(known, [&](const std::string& each) {
        return each.front() != name.front() || column_named(heads, each);
    });
    const auto nearest = nearest_codes(name, known, 1);
    return nearest.empty() ? "" : "perhaps " + coilbook::quoted(nearest.front());
}

}  // namespace

Result<ReadingsFile> ReadingsFile::open(const std::filesystem::path& path) {
    auto file = with_header(CsvReader::open(path));
    std::error_code error;
    if (file && std::filesystem::is_regular_file(path, error)) {
        file->codes_ = CodesSeen(reading_again(path, file->code_column_));
    }
    return file;
}
Result<ReadingsFile> ReadingsFile::over(std::istream& stream, std::string name) {
    return with_header(CsvReader::over(stream, std::move(name)));
}

Result<ReadingsFile> ReadingsFile::with_header(Result<CsvReader> reader) {
    if (!reader) return tl::unexpected(reader.error());
    ReadingsFile file(std::move(*reader));
    if (auto wrong = file.understand_header()) {
        return tl::unexpected(
            in_file(file.reader_.name(), file.reader_.header().line, std::move(*wrong)));
    }
    return file;
}

std::optional<Problem> ReadingsFile::understand_header() {
    auto heads = column_heads_from(reader_.header().cells);
    if (!heads) return heads.error();
    heads_ = std::move(*heads);
    const auto code = column_named(heads_, "code");
    if (!code) {
        return Problem{"code", "the header has no such column",
                       "a column head 'code', with commas or semicolons between the heads"};
    }
    code_column_ = *code;
    for (auto& head : heads_) {
        const auto field = reading_field_from(head.name);
        fields_.push_back(field ? std::optional(*field) : std::nullopt);
        if (field && !head.unit.empty()) {
            const auto unit = column_unit_for(*field, head.unit);
            if (!unit) return unit.error();
            head.unit = *unit;
        }
        if (!field && !head.name.empty() &&
            std::ranges::find(not_measured, head.name) == std::ranges::end(not_measured)) {
            warnings_.push_back(in_file(reader_.name(), reader_.header().line,
                                        {head.name, "the column is unknown; it is kept as notes",
                                         perhaps_meant(head.name, heads_)}));
        }
    }
    return std::nullopt;
}

std::optional<ReadingsRowResult> ReadingsFile::next() {
    CsvRow cells{};
    const auto read = next_cells(cells);
    if (!read) return std::nullopt;
    if (!*read) return tl::unexpected(std::vector{read->error()});
    ReadingsRow row{};
    auto understood = understand(cells, true, row);
    auto repeated = repeated_code(cells);
    if (understood && !repeated) return row;
    std::vector<Problem> problems;
    if (!understood) problems = std::move(understood.error());
    if (repeated) problems.push_back(std::move(*repeated));
    return tl::unexpected(std::move(problems));
}

tl::expected<void, std::vector<Problem>> ReadingsFile::understand(const CsvRow& cells,
                                                                  bool in_words,
                                                                  ReadingsRow& row) const {
    auto diameters = std::move(row.readings.diameters);  // for its memory
    diameters.clear();
    row.readings = {};
    row.readings.diameters = std::move(diameters);
    row.notes.clear();
    row.raw.clear();
    row.line = cells.line;
    std::vector<Problem> problems;
    for (std::size_t column = 0; column < heads_.size(); ++column) {
        const auto cell = trimmed(cells.cells[column]);
        if (column == code_column_) {
            auto code = coil_code_from(cell);
            if (code) {
                row.code = std::move(*code);
            } else {
                problems.push_back(std::move(code.error()));
            }
        } else if (!cell.empty()) {
            read_cell(cell, column, in_words, row, problems);
        }
    }
    if (problems.empty()) return {};
    for (auto& each : problems) each = in_file(reader_.name(), row.line, std::move(each));
    return tl::unexpected(std::move(problems));
}

void ReadingsFile::expect_code(const CsvRow& cells) const {
    codes_.expect(trimmed(cells.cells[code_column_]));
}

std::optional<Problem> ReadingsFile::repeated_code(const CsvRow& cells) {
    const auto code = trimmed(cells.cells[code_column_]);
    if (code.empty()) return std::nullopt;
    const auto first = codes_.seen_before(code, cells.line);
    if (!first) return std::nullopt;
    return in_file(
        reader_.name(), cells.line,
        {"code",
         coilbook::quoted(code) + " stands already in the row on line " + std::to_string(*first),
         "one row for each coil"});
}

void ReadingsFile::read_cell(std::string_view cell, std::size_t column, bool in_words,
                             ReadingsRow& into, std::vector<Problem>& problems) const {
    const auto& head = heads_[column];
    if (const auto field = fields_[column]) {
        const NumberStyle style{reader_.separator() == ';' ? ',' : '.', head.unit};
        if (!in_words) {
            auto read = read_into(into.readings, *field, cell, style);
            if (!read) problems.push_back(std::move(read.error()));
            return;
        }
        auto raw = written_readings(*field, cell, style);
        if (!raw) {
            problems.push_back(raw.error());
            return;
        }
        for (auto& reading : *raw) {
            put(into.readings, *field, reading.value);
            into.raw.push_back(std::move(reading));
        }
    } else if (head.name == "scale") {
        into.readings.scale = cell;
    } else if (head.name == "tape") {
        into.readings.tape = cell;
    } else if (head.name == "micrometer") {
        into.readings.micrometer = cell;
    } else if (head.name == "notes") {
        into.notes = into.notes.empty() ? std::string(cell) : std::string(cell) + "; " + into.notes;
    } else {
        const auto label = head.name.empty() ? "column " + std::to_string(column + 1) : head.name;
        into.notes += (into.notes.empty() ? "" : "; ") + label + ": " + std::string(cell);
    }
}

}  // namespace coilbook::exchange
