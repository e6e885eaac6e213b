#include "app/score_file.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/identify_file.h"
#include "app/score_questions.h"
#include "app/truth_file.h"
#include "base/text.h"
#include "exchange/readings_file.h"
#include "identify/intervals.h"
#include "identify/posterior.h"
#include "identify/scoring.h"
#include "quantity/units.h"

namespace coilbook::app {
namespace {

constexpr std::array levels{0.50, 0.90, 0.95};
constexpr std::array level_names{"coverage_50", "coverage_90", "coverage_95"};
constexpr double wanted_catch = 0.95;

// What the engine makes of one coil after another. The only place here that knows how it is asked.
class Judge {
  public:
    explicit Judge(const ReferenceLibrary& library) : library_(library), posterior_(library_) {}

    void look_at(const Evidence& evidence) { posterior_.take_up(evidence); }
    [[nodiscard]] std::span<const double> probabilities() const {
        return posterior_.probabilities();
    }
    [[nodiscard]] LineBelief belief(const Evidence& evidence, const ErrorShapes& shapes) const {
        return line_belief(evidence, shapes, posterior_, fresh_water_at_10_C());
    }

  private:
    PreparedLibrary library_;
    Posterior posterior_;
};

// Everything that is counted, coil by coil.
class Scores {
  public:
    explicit Scores(const ReferenceLibrary& library) : judge_(library) {
        for (std::size_t i = 0; i < score_questions.size(); ++i)
            questions_.emplace_back(library, i);
        const auto unlisted =
            std::ranges::find(library, std::optional{Family::unlisted}, &ReferenceClass::family);
        unlisted_ = static_cast<std::size_t>(unlisted - library.begin());
    }

    // Problems name the column of the truth file; then the coil counts as refused.
    [[nodiscard]] std::vector<Problem> add(const Evidence& evidence, const ErrorShapes& shapes,
                                           const CoilTruth& truth);
    void refuse() { ++refused_; }
    void write(RowWriter& writer) const;

  private:
    void add_quantities(const Evidence& evidence, const ErrorShapes& shapes,
                        const CoilTruth& truth);
    void write_question(RowWriter& writer, std::size_t question) const;
    void write_unlisted(RowWriter& writer) const;

    Judge judge_;
    std::vector<ScoreQuestion> questions_;
    std::size_t unlisted_ = 0;

    std::array<std::vector<ScoredAnswer>, score_questions.size()> answers_;
    std::array<std::vector<PairedAnswer>, score_questions.size()> beside_best_;
    std::vector<ScoredAnswer> best_classes_;  // the best judge's; only their confidence counts
    struct Coverage {
        std::size_t coils = 0;
        std::array<std::size_t, levels.size()> held{};
    };
    std::array<Coverage, score_quantities.size()> coverage_;
    struct Suspicion {
        std::vector<double> probabilities;  // of unlisted
        std::size_t called_unlisted = 0;
    };
    Suspicion listed_, clearly_foreign_;
    std::size_t scored_ = 0;
    std::size_t refused_ = 0;
    std::vector<double> sums_;  // room for one question
};

std::vector<Problem> Scores::add(const Evidence& evidence, const ErrorShapes& shapes,
                                 const CoilTruth& truth) {
    std::vector<Problem> problems;
    std::array<std::optional<std::size_t>, score_questions.size()> true_answers;
    for (std::size_t i = 0; i < score_questions.size(); ++i) {
        if (!truth.answers[i]) continue;
        true_answers[i] = questions_[i].index_of(*truth.answers[i]);
        if (true_answers[i]) continue;
        problems.push_back({score_questions[i],
                            coilbook::quoted(*truth.answers[i]) + " is no " + score_questions[i] +
                                " of the library",
                            "a name as `coilbook classes` prints it"});
    }
    if (!problems.empty()) {
        refuse();
        return problems;
    }
    judge_.look_at(evidence);
    const auto probabilities = judge_.probabilities();
    for (std::size_t i = 0; i < score_questions.size(); ++i) {
        if (!true_answers[i]) continue;
        questions_[i].sum(probabilities, sums_);
        answers_[i].push_back(scored(sums_, *true_answers[i]));
        if (truth.best_answers[i]) {
            beside_best_[i].push_back(
                {answers_[i].back().is_right, *truth.best_answers[i] == *truth.answers[i]});
        }
    }
    if (truth.best_class_probability && truth.best_answers.back()) {
        const bool is_right = *truth.best_answers.back() == *truth.answers.back();
        best_classes_.push_back({*truth.best_class_probability, is_right, 0.0, 0.0});
    }
    add_quantities(evidence, shapes, truth);

    // The last question is the class itself, whose answers are the classes in order.
    const bool is_listed = true_answers.back() != unlisted_;
    const bool is_called_unlisted =
        std::ranges::max_element(probabilities) - probabilities.begin() ==
        static_cast<std::ptrdiff_t>(unlisted_);
    if (is_listed || truth.is_clearly_foreign.value_or(false)) {
        auto& suspicion = is_listed ? listed_ : clearly_foreign_;
        suspicion.probabilities.push_back(probabilities[unlisted_]);
        suspicion.called_unlisted += is_called_unlisted ? 1 : 0;
    }
    ++scored_;
    return problems;
}

void Scores::add_quantities(const Evidence& evidence, const ErrorShapes& shapes,
                            const CoilTruth& truth) {
    const auto& value = truth.quantities;
    if (std::ranges::none_of(value, [](const auto& each) { return each.has_value(); })) return;
    const auto belief = judge_.belief(evidence, shapes);
    for (std::size_t level = 0; level < levels.size(); ++level) {
        const auto bounds = central_intervals(belief, levels[level]);
        const std::array held{
            value[0] && bounds.weight_per_length.holds(*value[0] * grain_per_foot),
            value[1] && bounds.diameter.holds(*value[1] * millimetre),
            value[2] && bounds.density.holds(*value[2] * gram_per_cubic_centimetre),
            value[3] && bounds.sink_rate.holds(*value[3] * inch_per_second),
        };
        for (std::size_t i = 0; i < held.size(); ++i) coverage_[i].held[level] += held[i] ? 1 : 0;
    }
    for (std::size_t i = 0; i < value.size(); ++i) coverage_[i].coils += value[i] ? 1 : 0;
}

void Scores::write_question(RowWriter& writer, std::size_t question) const {
    const char* of = score_questions[question];
    const auto& said = answers_[question];
    if (said.empty()) return;
    const auto n = said.size();
    add_row(writer, of, "accuracy", accuracy(said), n);
    add_row(writer, of, "brier_score", brier_score(said), n);
    add_row(writer, of, "log_loss", log_loss(said), n);
    add_row(writer, of, "calibration_error", calibration_error(said), n);
    add_row(writer, of, "calibration_error_by_chance", calibration_error_by_chance(said), {}, n);

    const auto& pairs = beside_best_[question];
    const auto best_right = std::ranges::count(pairs, true, &PairedAnswer::other_is_right);
    if (best_right == 0) return;
    add_row(writer, of, "accuracy_of_optimal",
            share(static_cast<std::size_t>(best_right), pairs.size()), pairs.size());
    add_row(writer, of, "share_of_optimal", share_of_other(pairs), pairs.size());
}

void Scores::write_unlisted(RowWriter& writer) const {
    const auto called = [&](const char* measure, const Suspicion& suspicion) {
        const auto n = suspicion.probabilities.size();
        if (n > 0) add_row(writer, "unlisted", measure, share(suspicion.called_unlisted, n), n);
    };
    called("listed_called_unlisted", listed_);
    called("clearly_foreign_caught", clearly_foreign_);
    const auto& listed = listed_.probabilities;
    const auto& foreign = clearly_foreign_.probabilities;
    if (listed.empty() || foreign.empty()) return;
    const auto found = catch_foreign(foreign, listed, wanted_catch);
    add_row(writer, "unlisted", "threshold_at_95_percent_caught", found.threshold, {},
            foreign.size());
    add_row(writer, "unlisted", "clearly_foreign_caught_at_threshold", found.caught,
            foreign.size());
    add_row(writer, "unlisted", "listed_called_unlisted_at_threshold", found.listed_called_unlisted,
            listed.size());
}

void Scores::write(RowWriter& writer) const {
    for (std::size_t i = 0; i < score_questions.size(); ++i) write_question(writer, i);
    if (!best_classes_.empty()) {
        const auto n = best_classes_.size();
        double promised = 0.0;
        for (const auto& each : best_classes_) promised += each.confidence;
        add_row(writer, "class", "accuracy_promised_by_optimal", promised / static_cast<double>(n),
                {}, n);
        add_row(writer, "class", "calibration_error_of_optimal", calibration_error(best_classes_),
                n);
    }
    for (std::size_t i = 0; i < score_quantities.size(); ++i) {
        const auto& [coils, held] = coverage_[i];
        for (std::size_t level = 0; coils > 0 && level < levels.size(); ++level) {
            add_row(writer, score_quantities[i], level_names[level], share(held[level], coils),
                    coils);
        }
    }
    write_unlisted(writer);
    const auto all = scored_ + refused_;
    if (all == 0) return;
    add_row(writer, "all", "scored", share(scored_, all), all);
    add_row(writer, "all", "refused", share(refused_, all), all);
}

// Adds one row to the scores. What was wrong with it, if anything.
std::vector<Problem> score_row(const exchange::ReadingsRowResult& row, const Truth& truth,
                               const Instruments& instruments, const ScoreRequest& request,
                               Scores& scores) {
    if (!row) {
        scores.refuse();
        return row.error();
    }
    const auto found = truth.find(row->code);
    const auto evidence = evidence_of(row->readings, instruments);
    std::vector<Problem> problems;
    if (found == truth.end()) {
        problems.push_back({"code", coilbook::quoted(row->code) + " has no row in the truth file",
                            "the truth of every coil"});
    }
    if (!evidence) problems.push_back(evidence.error());
    if (problems.empty()) {
        problems = scores.add(*evidence, error_shapes(row->readings, instruments), found->second);
        for (auto& problem : problems) {  // of the truth's columns
            problem.field = row->code + ": " + problem.field;
            problem = exchange::in_file(request.truth.string(), 0, std::move(problem));
        }
        return problems;
    }
    scores.refuse();
    for (auto& problem : problems) {
        problem = exchange::in_file(request.readings.string(), row->line, std::move(problem));
    }
    return problems;
}

}  // namespace

bool score_file(const ScoreRequest& request, std::ostream& results, const ScoreReports& reports) {
    const auto tell = [](const auto& whom, const auto& what) {
        if (whom) whom(what);
    };
    const auto tell_all = [&](const std::vector<Problem>& problems) {
        for (const auto& problem : problems) tell(reports.problem, problem);
    };
    const auto instruments = instruments_for(request.instruments, request.instruments_file);
    if (!instruments) {
        tell_all(instruments.error());
        return false;
    }
    const auto truth = read_truth(request.truth);
    if (!truth) {
        tell_all(truth.error());
        return false;
    }
    auto file = exchange::ReadingsFile::open(request.readings);
    if (!file) {
        tell(reports.problem, file.error());
        return false;
    }
    Scores scores(request.library);
    bool all_are_fine = true;
    std::size_t coils_done = 0;
    while (const auto row = file->next()) {
        const auto problems = score_row(*row, *truth, *instruments, request, scores);
        tell_all(problems);
        all_are_fine = all_are_fine && problems.empty();
        tell(reports.progress, ++coils_done);
    }
    if (reports.coils_are_done) reports.coils_are_done();
    RowWriter writer(results, score_columns(), request.format, request.terminal_width);
    scores.write(writer);
    writer.finish("standard_error is one standard deviation (k = 1) by the number of coils.");
    return all_are_fine;
}

}  // namespace coilbook::app
