#include "exchange/bench_tables.h"

#include <algorithm>
#include <functional>
#include <optional>

#include "base/text.h"
#include "catalog/coil.h"
#include "exchange/column_head.h"
#include "exchange/csv.h"

namespace coilbook::exchange {
namespace {

template <class Q>
std::optional<Figure> plain(const Result<Stated<Q>>& stated) {
    if (!stated || stated->uncertainty) return std::nullopt;
    return Figure{stated->value};
}

// A weight, a length, a time or a temperature, whichever its unit says.
Result<Figure> figure_from(std::string_view text, NumberStyle style) {
    if (auto mass = plain(parse_mass(text, style))) return *mass;
    if (auto length = plain(parse_length(text, style))) return *length;
    if (auto duration = plain(parse_duration(text, style))) return *duration;
    const auto temperature = parse_temperature(text, style);
    if (temperature && !temperature->uncertainty) {
        return Figure{TemperatureDifference::from_kelvin(temperature->value.celsius())};
    }
    return problem("", quoted(text) + " is no weight, length, time or temperature",
                   "a number and a unit, such as 100.2 gr or 0.85 mm");
}

// A figure of the same kind as `like`, zero or more.
Result<Figure> uncertainty_from(std::string_view text, NumberStyle style, const Figure& like) {
    auto figure =
        std::holds_alternative<TemperatureDifference>(like)
            ? parse_temperature_difference(text, style).map([](auto span) { return Figure{span}; })
            : figure_from(text, style);
    if (!figure) return figure;
    if (figure->index() != like.index()) {
        return problem("", quoted(text) + " is no quantity of the standard's kind",
                       "the standard's uncertainty, in a unit like its own");
    }
    const bool is_negative = std::visit([](auto value) { return value.si() < 0.0; }, *figure);
    if (is_negative) return problem("", quoted(text) + " is negative", "zero or more");
    return figure;
}

// A table whose columns are known, read row by row.
class Table {
  public:
    Table(std::istream& stream, const std::string& name, std::vector<std::string> required,
          std::vector<std::string> optional) {
        auto csv = CsvReader::over(stream, name);
        if (!csv) {
            problems_.push_back(csv.error());
            return;
        }
        csv_.emplace(std::move(*csv));
        const auto line = csv_->header().line;
        auto heads = column_heads_from(csv_->header().cells);
        if (!heads) {
            refuse(line, heads.error());
            return;
        }
        heads_ = std::move(*heads);
        auto known = required;
        known.insert(known.end(), optional.begin(), optional.end());
        for (const auto& head : heads_) {
            if (std::ranges::find(known, head.name) == known.end()) {
                refuse(line, {head.name, "the column is unknown", listed(known)});
            }
        }
        for (const auto& column : required) {
            if (!column_named(heads_, column)) {
                refuse(line, {column, "the header has no such column", listed(required)});
            }
        }
    }

    void refuse(std::size_t line, Problem problem) {
        problems_.push_back(in_file(csv_->name(), line, std::move(problem)));
    }

    // Calls `read` for each row that is one.
    void each(const std::function<void(const CsvRow&)>& read) {
        if (!problems_.empty()) return;
        while (const auto row = csv_->next()) {
            if (*row) {
                read(**row);
            } else {
                problems_.push_back(row->error());
            }
        }
    }

    [[nodiscard]] std::string cell(const CsvRow& row, std::string_view column) const {
        const auto index = column_named(heads_, column);
        return index ? std::string(trimmed(row.cells[*index])) : std::string();
    }
    [[nodiscard]] NumberStyle style(std::string_view column) const {
        return {csv_->separator() == ';' ? ',' : '.', heads_[*column_named(heads_, column)].unit};
    }
    // A cell that must hold something; else a Problem is noted and nothing given.
    template <class Read>
    auto value(const CsvRow& row, const char* column, Read read) -> std::optional<
        typename std::invoke_result_t<Read, std::string, NumberStyle>::value_type> {
        const auto text = cell(row, column);
        if (text.empty()) {
            refuse(row.line, {column, "the cell is empty", "a value"});
            return std::nullopt;
        }
        auto result = read(text, style(column));
        if (result) return std::move(*result);
        auto wrong = result.error();
        wrong.field = column;
        refuse(row.line, std::move(wrong));
        return std::nullopt;
    }

    [[nodiscard]] std::vector<Problem>& problems() { return problems_; }

  private:
    std::optional<CsvReader> csv_;
    std::vector<ColumnHead> heads_;
    std::vector<Problem> problems_;
};

// "100.2 gr", with the unit of the column where the cell has none.
std::string with_unit(const std::string& text, NumberStyle style) {
    const bool has_unit = text.find_first_not_of("0123456789+-.,eE ") != std::string::npos;
    return has_unit || style.column_unit.empty() ? text
                                                 : text + " " + std::string(style.column_unit);
}

Result<std::string> word_from(const std::string& text, NumberStyle) {
    return text;
}

}  // namespace

tl::expected<std::vector<CheckRow>, std::vector<Problem>> read_checks(std::istream& stream,
                                                                      const std::string& name) {
    Table table(stream, name, {"instrument", "standard", "standard_u", "reading"},
                {"kind", "notes"});
    std::vector<CheckRow> rows;
    table.each([&](const CsvRow& row) {
        const auto standard = table.value(row, "standard", figure_from);
        const auto reading = table.value(row, "reading", figure_from);
        if (!standard || !reading) return;
        const auto uncertainty =
            table.value(row, "standard_u", [&](const std::string& text, NumberStyle style) {
                return uncertainty_from(text, style, *standard);
            });
        if (!uncertainty) return;
        if (reading->index() != standard->index()) {
            return table.refuse(row.line, {"reading", "it is no quantity of the standard's kind",
                                           "what the instrument showed for the standard"});
        }
        std::string code = table.cell(row, "instrument");
        if (!code.empty()) {
            const auto checked = coil_code_from(code);
            if (!checked) return table.refuse(row.line, checked.error());
        }
        rows.push_back({row.line, lower_ascii(table.cell(row, "kind")), std::move(code), *standard,
                        *uncertainty, *reading,
                        with_unit(table.cell(row, "standard"), table.style("standard")) + "," +
                            with_unit(table.cell(row, "standard_u"), table.style("standard_u")) +
                            "," + with_unit(table.cell(row, "reading"), table.style("reading"))});
    });
    if (!table.problems().empty()) return tl::unexpected(std::move(table.problems()));
    return rows;
}

tl::expected<std::vector<StudyRow>, std::vector<Problem>> read_study(std::istream& stream,
                                                                     const std::string& name) {
    Table table(stream, name, {"coil", "person", "reading"}, {"notes"});
    std::vector<StudyRow> rows;
    table.each([&](const CsvRow& row) {
        const auto coil = table.value(row, "coil", word_from);
        const auto person = table.value(row, "person", word_from);
        const auto reading = table.value(row, "reading", figure_from);
        if (!coil || !person || !reading) return;
        if (!rows.empty() && rows.front().reading.index() != reading->index()) {
            return table.refuse(row.line, {"reading", "it is another kind of quantity than before",
                                           "readings of one instrument"});
        }
        rows.push_back({row.line, *coil, *person, *reading});
    });
    if (!table.problems().empty()) return tl::unexpected(std::move(table.problems()));
    return rows;
}

}  // namespace coilbook::exchange
