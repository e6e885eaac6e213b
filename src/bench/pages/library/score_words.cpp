#include "bench/pages/library/score_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "bench/words.h"
#include "identify/scoring.h"

namespace coilbook::bench::library_page {
namespace {

constexpr std::array asked{std::pair{0, "Grain class"}, std::pair{1, "Density grade"},
                           std::pair{4, "Class"}};

ScoreRow row_of(const char* question, const std::vector<ScoredAnswer>& answers) {
    const auto right =
        static_cast<std::size_t>(std::ranges::count(answers, true, &ScoredAnswer::is_right));
    const auto bounds = share_bounds(right, answers.size());
    ScoreRow row;
    row.question = question;
    row.right = fmt::format("{} of {} right", right, answers.size());
    row.share = accuracy(answers).value;
    row.low = bounds.low;
    row.high = bounds.high;
    row.certainty = mean_certainty(answers).value;
    row.words = fmt::format("right {:.0f} % (of more coils {:.0f} to {:.0f} %), said {:.0f} % sure",
                            100 * row.share, 100 * row.low, 100 * row.high, 100 * row.certainty);
    if (row.certainty > row.high) {
        row.tone = Tone::warn;
        row.words += ": surer than it should be";
    } else if (row.certainty < row.low) {
        row.words += ": it could be surer";
    } else {
        row.tone = Tone::good;
        row.words += ": as sure as it should be";
    }
    return row;
}

// What was not scored, and why; empty where all was.
std::string left_out(const app::ConfirmedScore& score) {
    std::string words;
    const auto add = [&](std::size_t count, const char* why) {
        if (count == 0) return;
        words += words.empty() ? "Left out: " : "; ";
        words += fmt::format("{} {}", count, why);
    };
    add(score.without_readings, "without readings");
    add(score.of_other_classes, "of a class made from your own coils");
    add(score.refused, "whose readings are no line's");
    return words.empty() ? words : words + ".";
}

}  // namespace

ScoreView score_view(const std::optional<app::ConfirmedScore>& score) {
    ScoreView view;
    if (!score) {
        view.words.push_back("Being worked out …");
        return view;
    }
    view.aside = fmt::format("{} coils", score->scored());
    if (!score->is_enough()) {
        view.words.push_back(
            score->scored() == 0
                ? std::string("No coil that was read is confirmed yet, so there is nothing to hold "
                              "the answers against.")
                : fmt::format("{} {} too few to say: even all right could be luck.",
                              coils(score->scored(), "confirmed "),
                              score->scored() == 1 ? "is" : "are"));
        view.words.push_back(
            fmt::format("From {} on it is told here how often the answer was "
                        "right. Confirm at the bench what you are sure of.",
                        app::enough_to_score));
    } else {
        for (const auto& [question, label] : asked) {
            view.rows.push_back(row_of(label, score->answers[static_cast<std::size_t>(question)]));
        }
        view.words.push_back(
            score->called_unlisted == 0
                ? fmt::format("None of the {} was falsely called unlisted.", score->listed)
                : fmt::format("{} of {} {} falsely called unlisted.", score->called_unlisted,
                              score->listed, score->called_unlisted == 1 ? "was" : "were"));
        view.words.push_back(
            "Asked was the built-in library, as if it had learned nothing from these coils: else "
            "it would grade itself. Who confirms has mostly seen the answer before, which "
            "flatters it.");
    }
    if (const auto words = left_out(*score); !words.empty()) view.words.push_back(words);
    return view;
}

}  // namespace coilbook::bench::library_page
