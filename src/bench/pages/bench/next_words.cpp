#include "bench/pages/bench/next_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace coilbook::bench::bench_page {
namespace {

// What a reading may change, at the end of a sentence.
std::string changed(const Question& question, const ReferenceLibrary& library) {
    switch (question.answer) {
        case Answer::line:
            return "the answer";
        case Answer::grain_class:
            return "its grain class";
        case Answer::density_grade:
            return "its density grade";
        case Answer::fishes_like:
            return "whether it fishes like " + library[question.like.value_or(0)].name;
    }
    return "the answer";
}

}  // namespace

std::string about(Duration time) {
    const double seconds = time / second;
    if (seconds < 15) return "a few seconds";
    if (seconds < 25) return "a third of a minute";
    if (seconds < 50) return "half a minute";
    const double minutes = std::max(1.0, std::round(seconds / 60.0));
    return fmt::format("{:.0f} {}", minutes, minutes < 1.5 ? "minute" : "minutes");
}

std::string chance_in_words(double probability) {
    if (probability < 0.01) return "hardly a chance";
    if (probability >= 0.6) return "a good chance";
    if (probability >= 0.4) return "an even chance";
    return fmt::format("1 chance in {:.0f}", std::round(1.0 / probability));
}

NextWords next_words(const Verdict& verdict, const Question& question,
                     const ReferenceLibrary& library) {
    const std::string change = changed(question, library);
    const bool is_doubtful = verdict.has(Flag::inconsistent) || verdict.has(Flag::implausible) ||
                             verdict.has(Flag::unit_mixup);
    if (verdict.enough && !is_doubtful) {
        const std::string what = question.answer == Answer::line ? "this" : change;
        return {fmt::format("Enough: no further reading is likely to change {}.", what), {}, true};
    }
    if (verdict.advice.empty()) return {};
    const ReadingAdvice& next = verdict.advice.front();
    return {fmt::format("Next, {}.", next.how),
            fmt::format("About {}, with {} to change {}.", about(next.time),
                        chance_in_words(next.chance_of_change), change),
            false};
}

std::string asked(const Question& question, const ReferenceLibrary& library) {
    switch (question.answer) {
        case Answer::line:
            return "Which line";
        case Answer::grain_class:
            return "Only its grain class";
        case Answer::density_grade:
            return "Only its density grade";
        case Answer::fishes_like:
            return fmt::format("Fishes like {}?", library[question.like.value_or(0)].name);
    }
    return {};
}

std::string order_asked(const Question& question) {
    return question.by_time ? "Quickest-telling first" : "Most telling first";
}

}  // namespace coilbook::bench::bench_page
