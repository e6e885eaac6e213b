#include "app/verdict_rows.h"

#include <cassert>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>

#include "app/csv_row_text.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::app {
namespace {

// A list of cells that takes them one by one, as CsvRowText does.
class CellList {
  public:
    void add(double number) { cells_.push_back(cell_of(number)); }
    void add(std::int64_t count) { cells_.emplace_back(count); }
    void add(std::string_view words) { cells_.push_back(cell_of(std::string(words))); }
    void add_missing() { cells_.emplace_back(); }
    [[nodiscard]] std::vector<Cell> take() { return std::move(cells_); }

  private:
    std::vector<Cell> cells_;
};

// Appends a value and its standard uncertainty, or two missing cells.
template <class Q>
void add_fact(auto& row, const std::optional<Measured<Q>>& fact, Q unit) {
    if (fact) {
        row.add(fact->value.in(unit));
        row.add(fact->uncertainty.in(unit));
    } else {
        row.add_missing();
        row.add_missing();
    }
}

template <class Value>
void add_facet(auto& row, const Facet<Value>& facet) {
    if (!facet.value) {
        row.add_missing();
    } else if constexpr (std::is_same_v<Value, LineSize>) {
        row.add(std::int64_t{facet.value->number});
    } else {
        row.add(std::string_view(name_of(*facet.value)));
    }
    row.add(facet.probability);
}

std::string joined(const std::vector<Flag>& flags) {
    std::string words;
    for (const auto flag : flags) {
        words += (words.empty() ? "" : " ") + std::string(name_of(flag));
    }
    return words;
}

// The cells under verdict_columns().
void add_verdict(auto& row, std::string_view code, const Verdict& verdict,
                 const ReferenceLibrary& library) {
    assert(!verdict.ranking.empty() && verdict.probabilities.size() == library.size());
    row.add(code);
    add_fact(row, verdict.facts.linear_density, grain_per_foot);
    add_fact(row, verdict.facts.diameter, millimetre);
    add_fact(row, verdict.facts.density, gram_per_cubic_centimetre);
    add_fact(row, verdict.facts.sink_rate, inch_per_second);
    add_facet(row, verdict.grain_class);
    add_facet(row, verdict.density_grade);
    add_facet(row, verdict.line_size);
    add_facet(row, verdict.family);
    for (std::size_t rank = 0; rank < 2; ++rank) {
        if (rank < verdict.ranking.size()) {
            const auto index = verdict.ranking[rank];
            row.add(std::string_view(library[index].name));
            row.add(verdict.probabilities[index]);
        } else {  // all other classes are out of use
            row.add_missing();
            row.add_missing();
        }
    }
    row.add(verdict.unlisted_probability);
    if (verdict.advice.empty()) {
        row.add_missing();
        row.add_missing();
    } else {
        row.add(name_of(verdict.advice.front().field));
        row.add(verdict.advice.front().bits);
    }
    row.add(std::string_view(joined(verdict.flags)));
}

template <class Q>
Cell summary(const std::optional<Measured<Q>>& fact, Q unit) {
    if (!fact) return {};
    return with_uncertainty(fact->value.in(unit), fact->uncertainty.in(unit));
}

}  // namespace

std::vector<Column> verdict_columns() {
    const auto text = [](const char* name) { return Column{name, false, 4}; };
    const auto number = [](const char* name) { return Column{name, true, 4}; };
    return {
        text("code"),
        number("grains_per_foot"),
        number("grains_per_foot_u"),
        number("diameter_mm"),
        number("diameter_mm_u"),
        number("density_g_cm3"),
        number("density_g_cm3_u"),
        number("sink_rate_in_s"),
        number("sink_rate_in_s_u"),
        text("grain_class"),
        number("grain_class_probability"),
        text("density_grade"),
        number("density_grade_probability"),
        number("line_size"),
        number("line_size_probability"),
        text("family"),
        number("family_probability"),
        text("best_class"),
        number("best_class_probability"),
        text("second_class"),
        number("second_class_probability"),
        number("unlisted_probability"),
        text("next_reading"),
        number("next_reading_bits"),
        text("flags"),
    };
}

std::vector<Cell> verdict_cells(std::string_view code, const Verdict& verdict,
                                const ReferenceLibrary& library) {
    CellList cells;
    add_verdict(cells, code, verdict, library);
    return cells.take();
}

void append_verdict_csv(std::string& text, std::string_view code, const Verdict& verdict,
                        const ReferenceLibrary& library) {
    CsvRowText row(text);
    add_verdict(row, code, verdict, library);
    row.end();
}

exchange::Json verdict_details(const Verdict& verdict, const ReferenceLibrary& library) {
    auto classes = exchange::Json::array();
    for (std::size_t i = 0; i < library.size(); ++i) {
        classes.push_back({{"name", library[i].name},
                           {"probability", exchange::json_from(verdict.probabilities[i])}});
    }
    return {{"classes", std::move(classes)}, {"because", verdict.because}};
}

std::vector<Column> verdict_summary_columns() {
    // The facts that decide stay longest; the next reading is worth more than a rival's name.
    return {{"code"},
            {"best class"},
            {"how sure", true},
            {"or else", false, 4, 5},
            {"gr/ft", true, 4, 1},
            {"mm", true, 4, 4},
            {"g/cm3", true, 4, 3},
            {"sinks in/s", true},
            {"read next", false, 4, 2},
            {"flags"}};
}

std::vector<Cell> verdict_summary_cells(std::string_view code, const Verdict& verdict,
                                        const ReferenceLibrary& library) {
    const auto best = verdict.ranking[0];
    const auto second =
        verdict.ranking.size() > 1 ? std::optional(verdict.ranking[1]) : std::nullopt;
    const auto& facts = verdict.facts;
    // A second class is worth a column only where it could be the one.
    const bool has_rival = second && verdict.probabilities[*second] >= 0.05;
    return {std::string(code),
            library[best].name,
            percent(verdict.probabilities[best]),
            cell_of(has_rival ? library[*second].name : ""),
            summary(facts.linear_density, grain_per_foot),
            summary(facts.diameter, millimetre),
            summary(facts.density, gram_per_cubic_centimetre),
            summary(facts.sink_rate, inch_per_second),
            verdict.advice.empty() ? Cell{} : std::string(name_of(verdict.advice.front().field)),
            cell_of(joined(verdict.flags))};
}

std::string percent(double probability) {
    if (probability > 0.0 && probability < 0.01) return "< 1 %";
    if (probability < 1.0 && probability > 0.99) return "> 99 %";
    return std::to_string(std::lround(100.0 * probability)) + " %";
}

}  // namespace coilbook::app
