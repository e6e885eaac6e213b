#include "app/score_confirmed.h"

#include <algorithm>
#include <optional>

#include "app/built_in_library.h"
#include "identify/evidence.h"
#include "identify/posterior.h"
#include "identify/prepared_library.h"

namespace coilbook::app {

// The engine with the built-in library, and the questions that it answers.
struct ConfirmedScorer::Judge {
    PreparedLibrary library{built_in_library()};
    Posterior posterior{library};
    std::vector<ScoreQuestion> questions;
    std::vector<double> sums;  // room for one question

    Judge() {
        for (std::size_t at = 0; at < score_questions.size(); ++at) {
            questions.emplace_back(library.classes(), at);
        }
    }
};

ConfirmedScorer::ConfirmedScorer(const Workshop& workshop, std::vector<SaidCoil> coils)
    : coils_(std::move(coils)),
      instruments_(workshop.instruments()),
      judge_(std::make_unique<Judge>()) {}
ConfirmedScorer::~ConfirmedScorer() = default;
ConfirmedScorer::ConfirmedScorer(ConfirmedScorer&&) noexcept = default;
ConfirmedScorer& ConfirmedScorer::operator=(ConfirmedScorer&&) noexcept = default;

bool ConfirmedScorer::go_on(std::chrono::steady_clock::duration budget) {
    const auto end = std::chrono::steady_clock::now() + budget;
    while (next_ < coils_.size()) {
        add(coils_[next_++]);
        if (std::chrono::steady_clock::now() >= end) break;
    }
    return next_ < coils_.size();
}

void ConfirmedScorer::add(const SaidCoil& coil) {
    const auto& library = judge_->library;
    const auto truth = std::ranges::find(library.classes(), coil.class_name, &ReferenceClass::name);
    if (truth == library.classes().end()) {
        ++score_.of_other_classes;
        return;
    }
    const bool is_read = std::ranges::any_of(
        all_reading_fields, [&](ReadingField field) { return has(coil.readings, field); });
    if (!is_read) {
        ++score_.without_readings;
        return;
    }
    const auto evidence = evidence_of(coil.readings, instruments_);
    if (!evidence) {
        ++score_.refused;
        return;
    }
    judge_->posterior.take_up(*evidence);
    const auto probabilities = judge_->posterior.probabilities();
    for (std::size_t at = 0; at < score_questions.size(); ++at) {
        const auto& question = judge_->questions[at];
        question.sum(probabilities, judge_->sums);
        score_.answers[at].push_back(
            scored(judge_->sums, question.index_of(answer_of(*truth, at)).value()));
    }
    if (truth->family == Family::unlisted) return;
    ++score_.listed;
    const auto best = std::ranges::max_element(probabilities) - probabilities.begin();
    if (static_cast<std::size_t>(best) == library.unlisted()) ++score_.called_unlisted;
}

ConfirmedScore score_confirmed(Workshop& workshop) {
    ConfirmedScorer scorer(workshop, confirmed_coils(workshop));
    while (scorer.go_on(std::chrono::hours(1))) {
    }
    return scorer.score();
}

void write_confirmed_score(const ConfirmedScore& score, std::ostream& out, Format format,
                           std::size_t terminal_width) {
    RowWriter writer(out, score_columns(), format, terminal_width);
    const auto n = score.scored();
    for (std::size_t at = 0; n > 0 && at < score_questions.size(); ++at) {
        const char* of = score_questions[at];
        const auto& said = score.answers[at];
        add_row(writer, of, "accuracy", accuracy(said), n);
        add_row(writer, of, "mean_certainty", mean_certainty(said), n);
        add_row(writer, of, "brier_score", brier_score(said), n);
        add_row(writer, of, "log_loss", log_loss(said), n);
        add_row(writer, of, "calibration_error", calibration_error(said), n);
        add_row(writer, of, "calibration_error_by_chance", calibration_error_by_chance(said), {},
                n);
    }
    if (score.listed > 0) {
        add_row(writer, "unlisted", "listed_called_unlisted",
                share(score.called_unlisted, score.listed), score.listed);
    }
    const auto all = n + score.without_readings + score.of_other_classes + score.refused;
    if (all > 0) {
        add_row(writer, "all", "scored", share(n, all), all);
        add_row(writer, "all", "without_readings", share(score.without_readings, all), all);
        add_row(writer, "all", "of_other_classes", share(score.of_other_classes, all), all);
        add_row(writer, "all", "refused", share(score.refused, all), all);
    }
    std::string words = "standard_error is one standard deviation (k = 1) by the number of coils.";
    if (!score.is_enough()) {
        words += "\nFewer than " + std::to_string(enough_to_score) +
                 " confirmed coils: too few to say how good the answers are.";
    }
    writer.finish(words);
}

}  // namespace coilbook::app
