#include "exchange/library_file.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "exchange/column_head.h"
#include "exchange/csv.h"
#include "quantity/parse.h"

namespace coilbook::exchange {
namespace {

constexpr std::array columns{"class",
                             "family",
                             "grain_class",
                             "density_grade",
                             "line_size",
                             "weight",
                             "grains_per_foot",
                             "grains_per_foot_sd_percent",
                             "density_g_cm3",
                             "density_sd_percent",
                             "correlation",
                             "tapered",
                             "clear",
                             "pale",
                             "brown",
                             "dark",
                             "black",
                             "usual_lengths_ft",
                             "usual_length_sd_percent",
                             "basis"};

// The cells of one row by their columns; collects what is wrong with them.
class ClassRow {
  public:
    ClassRow(const std::vector<ColumnHead>& heads, const CsvRow& row, char decimal_mark)
        : heads_(heads), row_(row), decimal_mark_(decimal_mark) {}

    [[nodiscard]] std::string_view text(std::string_view column) const {
        return trimmed(row_.cells[*column_named(heads_, column)]);
    }

    // The number of a column if `is_fine` accepts it; 1 after a Problem, which `expected` explains.
    template <class Check>
    [[nodiscard]] double number(std::string_view column, const char* expected, Check is_fine) {
        auto number = parse_number(text(column), decimal_mark_);
        if (number && !is_fine(*number)) {
            number = problem("", quoted(text(column)) + " is out of range", expected);
        }
        if (number) return *number;
        refuse(column, number.error());
        return 1.0;
    }
    [[nodiscard]] double positive(std::string_view column) {
        return number(column, "a number above zero", [](double x) { return x > 0.0; });
    }
    [[nodiscard]] double probability(std::string_view column) {
        return number(column, "a probability from 0 to 1",
                      [](double x) { return x >= 0.0 && x <= 1.0; });
    }

    // What `from` makes of a column, or nothing where it is empty.
    template <class Value>
    [[nodiscard]] std::optional<Value> facet(std::string_view column,
                                             Result<Value> (*from)(std::string_view)) {
        if (text(column).empty()) return std::nullopt;
        const auto value = from(text(column));
        if (value) return *value;
        refuse(column, value.error());
        return std::nullopt;
    }

    [[nodiscard]] std::optional<UsualLengths> usual_lengths() {
        UsualLengths usual;
        for (const auto piece : pieces(text("usual_lengths_ft"), " |")) {
            const auto feet = parse_number(piece, decimal_mark_);
            if (!feet || *feet <= 0.0) {
                refuse("usual_lengths_ft", {"", quoted(piece) + " is not a length in feet",
                                            "numbers above zero separated by blanks"});
                return std::nullopt;
            }
            usual.lengths.push_back(*feet * foot);
        }
        if (usual.lengths.empty()) return std::nullopt;
        usual.relative_sd = positive("usual_length_sd_percent") / 100.0;
        return usual;
    }

    void refuse(std::string_view column, Problem problem) {
        problem.field = column;
        problems.push_back(std::move(problem));
    }

    std::vector<Problem> problems;

  private:
    const std::vector<ColumnHead>& heads_;
    const CsvRow& row_;
    char decimal_mark_;
};

ReferenceClass class_from(ClassRow& row) {
    ReferenceClass made;
    made.name = row.text("class");
    made.family = row.facet<Family>("family", family_from);
    made.grain_class = row.facet<GrainClass>("grain_class", grain_class_from);
    made.density_grade = row.facet<DensityGrade>("density_grade", density_grade_from);
    made.line_size = row.facet<LineSize>("line_size", line_size_from);
    made.weight = row.positive("weight");
    made.line.ln_grains_per_foot_mean = std::log(row.positive("grains_per_foot"));
    made.line.ln_grains_per_foot_sd = row.positive("grains_per_foot_sd_percent") / 100.0;
    made.line.ln_density_mean = std::log(row.positive("density_g_cm3"));
    made.line.ln_density_sd = row.positive("density_sd_percent") / 100.0;
    made.line.correlation = row.number("correlation", "a number between -1 and 1",
                                       [](double x) { return std::abs(x) < 1.0; });
    made.tapered = row.probability("tapered");
    for (std::size_t i = 0; i < all_tints.size(); ++i) {
        made.tints[i] = row.probability(name_of(all_tints[i]));
    }
    made.usual = row.usual_lengths();
    made.basis = row.text("basis");
    if (made.name.empty()) row.refuse("class", {"", "the class has no name", "a name"});
    if (made.basis.empty()) {
        row.refuse("basis", {"", "the class has no basis", "where its figures come from"});
    }
    const double sum = std::accumulate(made.tints.begin(), made.tints.end(), 0.0);
    if (row.problems.empty() && std::abs(sum - 1.0) > 1e-6) {
        row.refuse("clear", {"", "the probabilities of the tints do not add up",
                             "clear to black with a sum of 1"});
    }
    return made;
}

std::vector<Problem> problems_of_header(const std::vector<ColumnHead>& heads) {
    std::vector<Problem> problems;
    for (const auto* column : columns) {
        if (!column_named(heads, column)) {
            problems.push_back({column, "the header has no such column", "all columns"});
        }
    }
    for (const auto& head : heads) {
        if (std::ranges::find(columns, head.name) == columns.end() || !head.unit.empty()) {
            problems.push_back({head.name, "the column is unknown", "the library's columns only"});
        }
    }
    return problems;
}

LibraryResult read_all(Result<CsvReader> csv) {
    if (!csv) return tl::unexpected(std::vector{csv.error()});
    std::vector<Problem> problems;
    const auto refuse = [&](std::size_t line, Problem problem) {
        problems.push_back(in_file(csv->name(), line, std::move(problem)));
    };
    const auto heads = column_heads_from(csv->header().cells);
    if (!heads)
        return tl::unexpected(std::vector{in_file(csv->name(), csv->header().line, heads.error())});
    for (auto& each : problems_of_header(*heads)) refuse(csv->header().line, std::move(each));
    if (!problems.empty()) return tl::unexpected(std::move(problems));

    ReferenceLibrary library;
    std::map<std::string, std::size_t> line_of_name;
    std::size_t unlisted = 0;
    while (const auto row = csv->next()) {
        if (!*row) {
            problems.push_back(row->error());
            continue;
        }
        const auto line = (*row)->line;
        ClassRow cells(*heads, **row, csv->separator() == ';' ? ',' : '.');
        library.push_back(class_from(cells));
        for (auto& each : cells.problems) refuse(line, std::move(each));
        unlisted += library.back().family == Family::unlisted;
        const auto [first, is_new] = line_of_name.emplace(library.back().name, line);
        if (!is_new) {
            refuse(line, {"class",
                          coilbook::quoted(library.back().name) +
                              " stands already in the row on line " + std::to_string(first->second),
                          "one row for each class"});
        }
    }
    if (unlisted != 1 && problems.empty()) {
        refuse(0, {"family", std::to_string(unlisted) + " classes are of the family unlisted",
                   "exactly one such class"});
    }
    if (!problems.empty()) return tl::unexpected(std::move(problems));
    return library;
}

}  // namespace

LibraryResult read_library(const std::filesystem::path& path) {
    return read_all(CsvReader::open(path));
}
LibraryResult read_library(std::istream& stream, const std::string& name) {
    return read_all(CsvReader::over(stream, name));
}

}  // namespace coilbook::exchange
