#include "app/truth_file.h"

#include "base/text.h"
#include "exchange/column_head.h"
#include "exchange/csv.h"
#include "quantity/parse.h"

namespace coilbook::app {
namespace {

// One row by the names of its columns; collects what is wrong with it.
class TruthRow {
  public:
    TruthRow(const std::vector<exchange::ColumnHead>& heads, const exchange::CsvRow& row)
        : heads_(heads), row_(row) {}

    [[nodiscard]] std::optional<std::string> text(const std::string& column) const {
        const auto index = exchange::column_named(heads_, column);
        if (!index) return std::nullopt;
        return std::string(trimmed(row_.cells[*index]));
    }
    [[nodiscard]] std::optional<double> number(const std::string& column) {
        const auto cell = text(column);
        if (!cell || cell->empty()) return std::nullopt;
        const auto number = parse_number(*cell, '.');
        if (number) return *number;
        refuse(column, number.error());
        return std::nullopt;
    }
    [[nodiscard]] std::optional<bool> yes_or_no(const std::string& column) {
        const auto cell = text(column);
        if (!cell || cell->empty()) return std::nullopt;
        if (*cell != "yes" && *cell != "no") {
            refuse(column, {"", coilbook::quoted(*cell) + " is neither yes nor no", "yes or no"});
        }
        return *cell == "yes";
    }
    void refuse(const std::string& column, Problem problem) {
        problem.field = column;
        problems.push_back(std::move(problem));
    }

    std::vector<Problem> problems;

  private:
    const std::vector<exchange::ColumnHead>& heads_;
    const exchange::CsvRow& row_;
};

CoilTruth truth_from(TruthRow& row) {
    CoilTruth truth;
    for (std::size_t i = 0; i < score_questions.size(); ++i) {
        truth.answers[i] = row.text(score_questions[i]);
        truth.best_answers[i] = row.text(std::string("best_") + score_questions[i]);
    }
    truth.best_class_probability = row.number("best_class_probability");
    for (std::size_t i = 0; i < score_quantities.size(); ++i) {
        truth.quantities[i] = row.number(score_quantities[i]);
    }
    truth.is_clearly_foreign = row.yes_or_no("clearly_foreign");
    return truth;
}

}  // namespace

tl::expected<Truth, std::vector<Problem>> read_truth(const std::filesystem::path& path) {
    auto reader = exchange::CsvReader::open(path);
    if (!reader) return tl::unexpected(std::vector{reader.error()});
    const auto heads = exchange::column_heads_from(reader->header().cells);
    if (!heads) {
        return tl::unexpected(
            std::vector{exchange::in_file(reader->name(), reader->header().line, heads.error())});
    }
    for (const char* needed : {"code", "class"}) {
        if (exchange::column_named(*heads, needed)) continue;
        return tl::unexpected(std::vector{
            exchange::in_file(reader->name(), reader->header().line,
                              {needed, "the header has no such column", "code and class"})});
    }
    Truth truth;
    std::vector<Problem> problems;
    while (const auto cells = reader->next()) {
        if (!*cells) {
            problems.push_back(cells->error());
            continue;
        }
        TruthRow row(*heads, **cells);
        auto known = truth_from(row);
        const auto code = row.text("code").value_or("");
        if (code.empty()) row.refuse("code", {"", "the row has no code", "the coil's code"});
        if (!code.empty() && !truth.emplace(code, std::move(known)).second) {
            row.refuse("code", {"", coilbook::quoted(code) + " stands twice", "one row a coil"});
        }
        for (auto& problem : row.problems) {
            problems.push_back(
                exchange::in_file(reader->name(), (*cells)->line, std::move(problem)));
        }
    }
    if (!problems.empty()) return tl::unexpected(std::move(problems));
    return truth;
}

}  // namespace coilbook::app
