#include "exchange/readings_file.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "catalog/coil.h"
#include "exchange/written_readings.h"

namespace coilbook::exchange {

Result<ReadingsFile> ReadingsFile::open(const std::filesystem::path& path) {
    return with_header(CsvReader::open(path));
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
    if (!column_named(heads_, "code")) {
        return Problem{"code", "the header has no such column",
                       "a column head 'code', with commas or semicolons between the heads"};
    }
    constexpr std::array not_measured{"code", "scale", "tape", "micrometer", "notes"};
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
            warnings_.push_back(
                in_file(reader_.name(), reader_.header().line,
                        {head.name, "the column is unknown; it is kept as notes", ""}));
        }
    }
    return std::nullopt;
}

std::optional<ReadingsRowResult> ReadingsFile::next() {
    const auto row = reader_.next();
    if (!row) return std::nullopt;
    if (!*row) return tl::unexpected(std::vector{row->error()});
    return row_from(**row);
}

ReadingsRowResult ReadingsFile::row_from(const CsvRow& cells) {
    ReadingsRow row;
    row.line = cells.line;
    std::vector<Problem> problems;
    for (std::size_t column = 0; column < heads_.size(); ++column) {
        const auto cell = trimmed(cells.cells[column]);
        if (heads_[column].name == "code") {
            read_code(cell, row, problems);
        } else if (!cell.empty()) {
            read_cell(cell, column, row, problems);
        }
    }
    if (problems.empty()) return row;
    for (auto& each : problems) each = in_file(reader_.name(), row.line, std::move(each));
    return tl::unexpected(std::move(problems));
}

void ReadingsFile::read_code(std::string_view cell, ReadingsRow& into,
                             std::vector<Problem>& problems) {
    const auto code = coil_code_from(cell);
    if (!code) {
        problems.push_back(code.error());
        return;
    }
    into.code = *code;
    const auto [first, is_new] = line_of_code_.emplace(*code, into.line);
    if (!is_new) {
        problems.push_back({"code",
                            coilbook::quoted(*code) + " stands already in the row on line " +
                                std::to_string(first->second),
                            "one row for each coil"});
    }
}

void ReadingsFile::read_cell(std::string_view cell, std::size_t column, ReadingsRow& into,
                             std::vector<Problem>& problems) {
    const auto& head = heads_[column];
    if (const auto field = fields_[column]) {
        const char mark = reader_.separator() == ';' ? ',' : '.';
        auto raw = written_readings(*field, cell, {mark, head.unit});
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
