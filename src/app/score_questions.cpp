#include "app/score_questions.h"

#include "app/facet_cells.h"

namespace coilbook::app {
namespace {

std::string answer_text(const Cell& cell) {
    if (const auto* number = std::get_if<std::int64_t>(&cell)) return std::to_string(*number);
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return "";
}

}  // namespace

std::string answer_of(const ReferenceClass& reference, std::size_t question) {
    switch (question) {
        case 0:
            return answer_text(facet_cell(reference.grain_class));
        case 1:
            return answer_text(facet_cell(reference.density_grade));
        case 2:
            return answer_text(facet_cell(reference.line_size));
        case 3:
            return answer_text(facet_cell(reference.family));
    }
    return reference.name;
}

ScoreQuestion::ScoreQuestion(const ReferenceLibrary& library, std::size_t question) {
    for (const auto& reference : library) {
        const auto answer = answer_of(reference, question);
        const auto [found, is_new] = index_.try_emplace(answer, index_.size());
        answer_of_class_.push_back(found->second);
    }
}

std::optional<std::size_t> ScoreQuestion::index_of(const std::string& answer) const {
    const auto found = index_.find(answer);
    if (found == index_.end()) return std::nullopt;
    return found->second;
}

void ScoreQuestion::sum(std::span<const double> of_classes, std::vector<double>& into) const {
    into.assign(index_.size(), 0.0);
    for (std::size_t k = 0; k < of_classes.size(); ++k) {
        into[answer_of_class_[k]] += of_classes[k];
    }
}

std::vector<Column> score_columns() {
    return {{"of"}, {"measure"}, {"value", true}, {"standard_error", true, 2}, {"coils", true}};
}

void add_row(RowWriter& writer, const char* of, const char* measure, double value,
             std::optional<double> standard_error, std::size_t coils) {
    writer.add({std::string(of), std::string(measure), cell_of(value), cell_of(standard_error),
                static_cast<std::int64_t>(coils)});
}

void add_row(RowWriter& writer, const char* of, const char* measure, const Estimate& estimate,
             std::size_t coils) {
    add_row(writer, of, measure, estimate.value, estimate.standard_error, coils);
}

}  // namespace coilbook::app
