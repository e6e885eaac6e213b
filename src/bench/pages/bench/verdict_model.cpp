#include "bench/pages/bench/verdict_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "app/verdict_rows.h"
#include "base/text.h"
#include "bench/number_words.h"
#include "bench/pages/bench/bench_picture.h"
#include "bench/pages/bench/next_words.h"
#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook::bench::bench_page {
namespace {

// A class is named as the answer from here on.
constexpr double likely_from = 0.5;

// The reading that the engine asks for; of a pair that says nothing alone, the first missing one.
ReadingField first_missing(ReadingField wanted, const CoilReadings& readings) {
    if (wanted == ReadingField::sample_weight && !readings.sample_length) {
        return ReadingField::sample_length;
    }
    if (wanted == ReadingField::sink_time && !readings.sink_distance) {
        return ReadingField::sink_distance;
    }
    if (wanted == ReadingField::whole_weight && !readings.whole_length) {
        return ReadingField::whole_length;
    }
    return wanted;
}

template <class Value>
FactRow facet_row(const char* name, const Facet<Value>& facet, Number number, const Units& units) {
    return {name, facet.value ? name_of(*facet.value) : "none", app::percent(facet.probability),
            facet.value.has_value(), help_on(number, units)};
}

template <class Q>
FactRow fact_row(std::string_view name, const std::optional<Measured<Q>>& fact, NamedUnit<Q> unit,
                 std::string help) {
    if (!fact) return {std::string(name), "not known yet", {}, false, std::move(help)};
    return {std::string(name),
            in_unit_with_uncertainty(fact->value, fact->uncertainty, unit),
            {},
            true,
            std::move(help)};
}

std::vector<FactRow> fact_rows(const Facts& facts, const Units& units) {
    const bool rises = facts.sink_rate && facts.sink_rate->value < Speed{};
    auto rate = facts.sink_rate;
    if (rises) rate->value = -rate->value;
    return {fact_row(units.weight_per_length_name, facts.linear_density, units.weight_per_length,
                     help_on(Number::weight_per_length, units)),
            fact_row("Diameter", facts.diameter, units.diameter, help_on(Number::diameter, units)),
            fact_row("Density", facts.density, units.density, help_on(Number::density, units)),
            fact_row(rises ? "Rises in still water at" : "Sinks in still water at", rate,
                     units.sink_rate, help_on(Number::sink_rate, units))};
}

// What matters on the river in one line: how heavy, and how fast it sinks.
std::string gist(const Facts& facts, const Units& units) {
    std::string words;
    if (facts.linear_density) {
        const auto& weight = *facts.linear_density;
        words = in_unit_with_uncertainty(weight.value, weight.uncertainty, units.weight_per_length);
    }
    if (facts.sink_rate) {
        const auto& rate = *facts.sink_rate;
        const bool rises = rate.value < Speed{};
        words += fmt::format("{}{} {}", words.empty() ? "" : ", ", rises ? "rises" : "sinks",
                             in_unit_with_uncertainty(rises ? -rate.value : rate.value,
                                                      rate.uncertainty, units.sink_rate));
    }
    return words;
}

// Which names are one line in the water: the best class and those that fish like it. Named are the
// most probable, only so many that a glance takes them in; of the others it says how many.
std::string fish_alike(const ReferenceLibrary& library, const Verdict& verdict) {
    constexpr std::size_t most = 3;
    constexpr double named_from = 0.03;
    std::vector<std::string> names{library[verdict.best()].name};
    std::size_t others = 0;
    for (const std::size_t index : verdict.ranking) {
        if (std::ranges::count(verdict.fishes_like, index) == 0) continue;
        const bool is_named = names.size() == 1 ||
                              (names.size() < most && verdict.probabilities[index] >= named_from);
        if (is_named) {
            names.push_back(library[index].name);
        } else {
            ++others;
        }
    }
    if (names.size() == 1) return {};
    const char* what = names.size() + others == 2 ? "two names for one line in the water"
                                                  : "names for one line in the water";
    if (others > 0) names.push_back(fmt::format("{} more", others));
    return fmt::format("{} fish alike: {}.", listed(names), what);
}

std::string flag_words(Flag flag) {
    switch (flag) {
        case Flag::implausible:
            return "No fishing line is like this. Check the readings.";
        case Flag::unit_mixup:
            return "Grains or grams? Check the unit of the weight.";
        case Flag::inconsistent:
            return "The readings contradict one another.";
        case Flag::ambiguous:
            return "More than one kind of line fits.";
    }
    return {};
}

// The class that Confirm would confirm, as an index into the library.
std::optional<std::size_t> class_to_confirm(const Form& form, const ReferenceLibrary& library,
                                            const CoilInHand& coil) {
    const auto chosen = std::ranges::find(library, form.chosen_class, &ReferenceClass::name);
    if (!form.chosen_class.empty() && chosen != library.end()) {
        return static_cast<std::size_t>(chosen - library.begin());
    }
    if (coil.state == CoilState::unmeasured || coil.verdict.ranking.empty()) return std::nullopt;
    const std::size_t best = coil.verdict.best();
    // A guess is not confirmed by a slip of the finger: it has to be chosen first.
    if (coil.verdict.probabilities[best] < likely_from) return std::nullopt;
    if (library[best].family == Family::unlisted) return std::nullopt;
    return best;
}

std::vector<BarRow> bar_rows(const ReferenceLibrary& library, const Verdict& verdict,
                             std::optional<std::size_t> choice, const std::string& help) {
    constexpr std::size_t most = 4;
    std::vector<BarRow> rows;
    double shown = 0;
    for (std::size_t rank = 0; rank < verdict.ranking.size(); ++rank) {
        const std::size_t index = verdict.ranking[rank];
        const double probability = verdict.probabilities[index];
        const bool among_best = rank < most && (rank == 0 || probability >= 0.005);
        if (!among_best && choice != index) continue;
        const FamilySign sign = sign_of(library[index]);
        const bool is_unlisted = library[index].family == Family::unlisted;
        rows.push_back({.class_name = is_unlisted ? std::string() : library[index].name,
                        .name = is_unlisted ? "none of the listed" : library[index].name,
                        .amount = app::percent(probability),
                        .share = probability,
                        .mark = sign.mark,
                        .series = sign.series,
                        .leading = rank == 0,
                        .is_choice = choice == index,
                        .help = help});
        shown += probability;
    }
    if (const double rest = 1.0 - shown; rest >= 0.005 && rows.size() < verdict.ranking.size()) {
        rows.push_back({.class_name = {},
                        .name = "all others",
                        .amount = app::percent(rest),
                        .share = rest,
                        .mark = Mark::ring,
                        .series = 4,
                        .help = help});
    }
    return rows;
}

// Where one coil was read with two instruments of a kind: all such readings count as read with the
// last one that has a code, and the person should know.
std::vector<std::string> mix_ups(const CoilInHand& coil) {
    struct Kind {
        const char* readings;
        const char* name;
        std::string counts;
        bool is_mixed = false;
    };
    std::array<Kind, 3> kinds{{{"lengths", "tape", coil.values.tape},
                               {"weights", "scale", coil.values.scale},
                               {"diameters", "micrometer", coil.values.micrometer}}};
    const ToolsInUse tools{.tape = "0", .scale = "1", .micrometer = "2"};
    for (const Reading& reading : coil.readings) {
        const std::string place = tools.for_field(reading.field);
        if (place.empty()) continue;
        Kind& kind = kinds[static_cast<std::size_t>(place.front() - '0')];
        if (reading.instrument != kind.counts) kind.is_mixed = true;
    }
    std::vector<std::string> words;
    for (const Kind& kind : kinds) {
        if (!kind.is_mixed) continue;
        words.push_back(fmt::format(
            "Its {} were read with more than one {}; all count as read with {}. Read them again "
            "with that one.",
            kind.readings, kind.name, kind.counts));
    }
    return words;
}

std::string headline(const ReferenceLibrary& library, const CoilInHand& coil) {
    if (coil.confirmed_as) return *coil.confirmed_as;
    if (coil.state == CoilState::unmeasured) return "Nothing read yet";
    const std::size_t best = coil.verdict.best();
    const double probability = coil.verdict.probabilities[best];
    if (library[best].family == Family::unlisted) return "None of the listed";
    if (probability < likely_from) return "Cannot tell yet";
    return coil.verdict.has(Flag::ambiguous) ? "Perhaps " + library[best].name : library[best].name;
}

}  // namespace

std::optional<ReadingField> wanted_field(const Situation& situation, const CoilInHand& coil) {
    const auto& advice = coil.verdict.advice;
    if (coil.confirmed_as || advice.empty()) return std::nullopt;
    const auto words = next_words(coil.verdict, situation.question, situation.library);
    if (words.is_enough) return std::nullopt;
    return first_missing(advice.front().field, coil.values);
}

VerdictView verdict_view(const Form& form, const Situation& situation, const CoilInHand& coil) {
    const ReferenceLibrary& library = situation.library;
    const Verdict& verdict = coil.verdict;
    VerdictView view;
    view.state = state_sign(coil.state);
    view.certainty_help = help_on(Number::certainty, situation.units);
    view.next_cost_help = help_on(Number::cost_of_reading, situation.units);
    view.headline = headline(library, coil);
    view.picture =
        picture_of(library, verdict, coil.coil.code, situation.before_learning, situation.units);
    view.facts = fact_rows(verdict.facts, situation.units);
    if (verdict.ranking.empty()) {
        view.confirm_label = "No reference library";
        return view;
    }
    const Units& units = situation.units;
    const bool tells = verdict.probabilities[verdict.best()] >= likely_from;
    if (coil.state != CoilState::unmeasured && tells) {
        view.certainty = app::percent(verdict.probabilities[verdict.best()]);
    }
    view.facets = {facet_row("Grain class", verdict.grain_class, Number::grain_class, units),
                   facet_row("Density grade", verdict.density_grade, Number::density_grade, units),
                   facet_row("Line size", verdict.line_size, Number::line_size, units),
                   facet_row("Family", verdict.family, Number::family, units)};
    if (coil.state != CoilState::unmeasured) view.gist = gist(verdict.facts, situation.units);
    for (const Flag flag : verdict.flags) {
        if (flag == Flag::ambiguous) continue;  // the headline and the bars say so
        view.flags.push_back({Tone::bad, flag_words(flag)});
    }
    if (verdict.mixup) {
        view.correct_units = verdict.mixup->noted_as_grains ? "It was grams" : "It was grains";
    }
    for (const std::string& words : mix_ups(coil)) view.flags.push_back({Tone::warn, words});
    if (!coil.confirmed_as) {
        const NextWords next = next_words(verdict, situation.question, library);
        view.next_reading = next.what;
        view.next_cost = next.cost;
        view.is_enough = next.is_enough;
    }
    view.next_field = wanted_field(situation, coil);
    const std::string advice = verdict.advice.empty()
                                   ? std::string("\n")
                                   : fmt::format("Next, {}", verdict.advice.front().how);
    if (!coil.doubt.empty()) view.because.push_back(coil.doubt);
    for (const std::string& reason : verdict.because) {
        if (!reason.starts_with(advice)) view.because.push_back(reason);  // said above already
    }
    if (coil.state != CoilState::unmeasured) view.fishes_like = fish_alike(library, verdict);

    const auto choice = class_to_confirm(form, library, coil);
    view.bars = bar_rows(library, verdict, choice, help_on(Number::probability, situation.units));
    view.may_take_back = coil.confirmed_as.has_value();
    if (!choice) {
        view.confirm_label = coil.state == CoilState::unmeasured ? "Nothing to confirm yet"
                                                                 : "Pick a class to confirm";
    } else if (coil.confirmed_as == library[*choice].name) {
        view.confirm_label = "Confirmed as " + *coil.confirmed_as;
    } else {
        view.confirm_label = "Confirm " + library[*choice].name;
        view.confirms = library[*choice].name;
    }
    return view;
}

}  // namespace coilbook::bench::bench_page
