// The view of a study: who reads what, who reads next, and what differs.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/instruments/instruments_model.h"

namespace coilbook::bench::instruments_page {
namespace {

std::string_view round_word(int time) {
    static constexpr std::array words{"first", "second", "third", "fourth", "fifth"};
    return time >= 1 && time <= 5 ? words[static_cast<std::size_t>(time - 1)] : "next";
}

// The kinds that coils are read with more than once by hand.
const std::vector<std::string_view>& study_kinds() {
    static const std::vector<std::string_view> names{"scale", "tape", "micrometer", "stopwatch"};
    return names;
}

void set_up(StudyView& view, const Form& form) {
    StudyDraft study = form.study;  // a copy, to be asked what is wrong with it
    const auto plan = plan_of(study);
    view.plan = "Two or three people, five to ten coils that differ, each read three times.";
    if (!plan) return;
    view.can_begin = true;
    const std::size_t all =
        plan->people.size() * plan->coils.size() * static_cast<std::size_t>(plan->times);
    view.plan = fmt::format(
        "{} readings: {} × {} × {} times, {}.", all,
        plan->people.size() == 1 ? plan->people.front()
                                 : fmt::format("{} people", plan->people.size()),
        plan->coils.size() == 1 ? plan->coils.front() : fmt::format("{} coils", plan->coils.size()),
        plan->times,
        study.is_shuffled ? "coils shuffled anew for each person and round"
                          : "coils in the order in which they stand");
}

void fill_table(StudyView& view, const StudyDraft& study) {
    view.people_names = study.people_names;
    for (const auto& coil : study.coil_codes) {
        view.table.push_back({coil, std::vector<StudyCell>(study.people_names.size())});
    }
    for (std::size_t at = 0; at < study.readings.size(); ++at) {
        const auto& turn = study.turns[at];
        auto& cell = view.table[turn.coil].cells[turn.person];
        // Nobody should be led by what was read before, so it is shown when all is read.
        if (study.is_done()) {
            cell.readings.push_back({study.as_written[at], at});
        } else {
            cell.text += "●";
        }
    }
    view.asks = !study.is_done() || study.again.has_value();
    if (!view.asks) return;
    const auto& turn = study.turns[study.again.value_or(study.readings.size())];
    view.table[turn.coil].cells[turn.person].at_hand = true;
    view.turn =
        fmt::format("{} reads {}", study.people_names[turn.person], study.coil_codes[turn.coil]);
    if (study.again) {
        view.progress =
            fmt::format("once more, in place of {} {}", study.as_written[*study.again], study.unit);
        return;
    }
    view.progress = fmt::format("reading {} of {}, {} round", study.readings.size() + 1,
                                study.turns.size(), round_word(turn.time));
    if (study.readings.empty()) return;
    const auto& before = study.turns[study.readings.size() - 1];
    if (before.person != turn.person) {
        view.hand_over = fmt::format("Hand it over to {}.", study.people_names[turn.person]);
    }
}

void tell(StudyView& view, const StudyDraft& study, const Units& units) {
    std::vector<app::StudyReading> readings;
    for (std::size_t at = 0; at < study.readings.size(); ++at) {
        readings.push_back({study.coil_codes[study.turns[at].coil],
                            study.people_names[study.turns[at].person], study.readings[at]});
    }
    const auto found = app::study_of(readings, study.unit);
    if (!found) {
        view.judgement = words_of(found.error());
        return;
    }
    view.judgement = found->judgement;
    view.sentences = found->sentences;
    struct Part {
        const char* name;
        const char* words;
        Number help;
        Mark mark;
        std::size_t series;
    };
    static constexpr std::array shown{
        Part{"repeatability", "one person, the same coil again", Number::spread_of_person,
             Mark::disc, 0},
        Part{"people", "one person or another", Number::spread_of_people, Mark::square, 1},
        Part{"people_by_coil", "and that more on some coils", Number::spread_of_people_by_coil,
             Mark::triangle, 2},
        Part{"coils", "the coils themselves", Number::spread_of_coils, Mark::diamond, 3}};
    for (const auto& part : shown) {
        const auto each = std::ranges::find(found->parts, part.name, &app::StudyPart::name);
        if (each == found->parts.end()) continue;
        view.parts.push_back({.name = part.words,
                              .amount = app::span_in_words(each->standard_deviation, study.unit),
                              .percent = fmt::format("{:.1f} %", 100.0 * each->of_variance),
                              .help = help_on(part.help, units),
                              .share = each->of_variance,
                              .mark = part.mark,
                              .series = part.series});
    }
}

}  // namespace

std::string words_of_unfinished(const app::UnfinishedStudy& study) {
    std::string people;
    for (std::size_t at = 0; at < study.people.size(); ++at) {
        if (at > 0) people += at + 1 == study.people.size() ? " and " : ", ";
        people += study.people[at];
    }
    return fmt::format("A study of reading with the {} is not finished: {} of {} readings, by {}.",
                       app::name_of(study.kind), study.as_written.size(), study.turns.size(),
                       people);
}

StudyView study_view(const Form& form) {
    const StudyDraft& study = form.study;
    StudyView view;
    view.is_going = study.is_going();
    view.is_done = study.is_done();
    view.kinds = study_kinds();
    view.kind = static_cast<int>(study.kind);
    view.is_shuffled = study.is_shuffled;
    view.unit = unit_word(study.unit);
    view.other_unit = other_unit(study.kind, study.unit);
    view.people = {"Who reads", "", "Ann Bob", "", words_of(study.people.problem)};
    view.coils = {"Which coils", "", "A1 A2 A3", "", words_of(study.coils.problem)};
    view.times = {"How often each", "times", "3", "", words_of(study.times.problem)};
    view.reading = {"It shows", study.unit, "", "", words_of(study.reading.problem)};
    view.plan_help = help_on(Number::readings_of_study, form.units);
    view.judgement_help = help_on(Number::judgement_of_study, form.units);
    if (!view.is_going) {
        set_up(view, form);
        return view;
    }
    fill_table(view, study);
    if (view.is_done) tell(view, study, form.units);
    return view;
}

}  // namespace coilbook::bench::instruments_page
