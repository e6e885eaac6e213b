// The questions that an engine is scored on: which grain class, density grade, line size, family
// and class a coil is of.
//
// Each has a few possible answers, the names that the classes of a library bring up, 'none' being
// one of them and written as an empty text.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/table.h"
#include "catalog/reference_class.h"
#include "identify/scoring.h"

namespace coilbook::app {

// As columns of a truth file are called, and `of` in what is written about them.
inline constexpr std::array score_questions{"grain_class", "density_grade", "line_size", "family",
                                            "class"};
inline constexpr std::size_t class_question = 4;

// What coils of that class answer to a question. REQUIRES: question < score_questions.size().
[[nodiscard]] std::string answer_of(const ReferenceClass& reference, std::size_t question);

// The possible answers to one question, in an order of their own, and which of them each class
// gives. To the last question, of the class itself, the classes answer in the library's order.
class ScoreQuestion {
  public:
    ScoreQuestion(const ReferenceLibrary& library, std::size_t question);

    // Nothing for what no class answers.
    [[nodiscard]] std::optional<std::size_t> index_of(const std::string& answer) const;
    // The classes' probabilities, summed for each answer.
    void sum(std::span<const double> of_classes, std::vector<double>& into) const;

  private:
    std::map<std::string, std::size_t> index_;
    std::vector<std::size_t> answer_of_class_;
};

// A row of what is written about a score, under score_columns().
[[nodiscard]] std::vector<Column> score_columns();
void add_row(RowWriter& writer, const char* of, const char* measure, double value,
             std::optional<double> standard_error, std::size_t coils);
void add_row(RowWriter& writer, const char* of, const char* measure, const Estimate& estimate,
             std::size_t coils);

}  // namespace coilbook::app
