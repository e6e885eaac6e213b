#include "identify/reasons.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "identify/evidence.h"
#include "quantity/print.h"

namespace coilbook {
namespace {

constexpr NamedUnit<Density> g_per_cm3{"g/cm3", gram_per_cubic_centimetre};

std::string percent(double probability) {
    if (probability > 0.995 && probability < 1.0) return "over 99 %";
    if (probability < 0.005) return "under 1 %";
    return fmt::format("{:.0f} %", 100.0 * probability);
}

template <class Q>
std::string shown(const Measured<Q>& fact, NamedUnit<Q> unit) {
    return in_unit_with_uncertainty(fact.value, fact.uncertainty, unit);
}

// "It weighs 11.20 ± 0.07 gr/ft, is 0.842 ± 0.010 mm thick and so has a density of …"
std::string measured_sentence(const Facts& facts, const Units& units) {
    std::vector<std::string> parts;
    if (facts.linear_density) {
        parts.push_back("weighs " + shown(*facts.linear_density, units.weight_per_length));
    }
    if (facts.diameter) parts.push_back("is " + shown(*facts.diameter, units.diameter) + " thick");
    if (facts.density) parts.push_back("has a density of " + shown(*facts.density, g_per_cm3));
    if (parts.empty()) return "Nothing that was read tells its weight or size yet.";
    return "It " + listed(parts) + " (one standard deviation each).";
}

std::string sinking_sentence(const Measured<Speed>& rate, const Units& units) {
    if (rate.value < Speed{}) {
        return fmt::format("It rises in still water, at {}.",
                           shown(Measured<Speed>{-rate.value, rate.uncertainty}, units.sink_rate));
    }
    return fmt::format("It sinks at {} in still water.", shown(rate, units.sink_rate));
}

// What the class says a line of it weighs and how dense it is.
std::string expectation(const ReferenceClass& reference, const Units& units) {
    const auto& line = reference.line;
    const auto weight = std::exp(line.ln_grains_per_foot_mean) * grain_per_foot;
    return fmt::format("{} give or take {:.0f} %, {} g/cm3 give or take {:.0f} %",
                       in_unit(weight, units.weight_per_length, 3),
                       100.0 * line.ln_grains_per_foot_sd,
                       significant(std::exp(line.ln_density_mean), 3), 100.0 * line.ln_density_sd);
}

std::string best_sentence(const ReferenceLibrary& library, const Verdict& verdict,
                          const Units& units) {
    const auto& best = library[verdict.best()];
    const auto probability = percent(verdict.probabilities[verdict.best()]);
    if (library.size() == 1) {
        return "The library has no class in use that it could be, so it has no name.";
    }
    if (best.family == Family::unlisted) {
        return fmt::format("It fits none of the library's lines ({}).", probability);
    }
    return fmt::format("Most probably {} ({}): {}.", best.name, probability,
                       expectation(best, units));
}

// The other contenders, and those among them that fish like the best one.
void add_rivals(std::vector<std::string>& sentences, const ReferenceLibrary& library,
                const Verdict& verdict) {
    std::vector<std::string> apart;
    std::vector<std::string> alike;
    for (std::size_t rank = 1; rank < std::min<std::size_t>(verdict.ranking.size(), 6); ++rank) {
        const auto k = verdict.ranking[rank];
        if (verdict.probabilities[k] < 0.03) break;
        const bool fishes_alike = std::ranges::count(verdict.fishes_like, k) > 0;
        (fishes_alike ? alike : apart)
            .push_back(fmt::format("{} ({})", library[k].name, percent(verdict.probabilities[k])));
    }
    if (!alike.empty()) {
        sentences.push_back(fmt::format(
            "{} and {} are the same line in the water: they fish alike, whatever the name.",
            library[verdict.best()].name, listed(alike)));
    }
    if (!apart.empty()) sentences.push_back("It could also be " + listed(apart) + ".");
}

std::string mixup_sentence(const UnitMixup& mixup, const std::string& meant_best) {
    const char* which = "";
    switch (mixup.which) {
        case MixedUp::sample:
            which = "sample's weight is";
            break;
        case MixedUp::whole:
            which = "whole coil's weight is";
            break;
        case MixedUp::submerged:
            which = "weight under water is";
            break;
        case MixedUp::all_weights:
            which = "weights are";
            break;
    }
    const auto [noted, meant] =
        mixup.noted_as_grains ? std::pair{"grains", "grams"} : std::pair{"grams", "grains"};
    return fmt::format(
        "The {} noted in {}, but would make sense in {}, and then be {}. Check the unit; the "
        "answer below takes it as noted.",
        which, noted, meant, meant_best);
}

// A reading whose partner is missing says nothing yet.
void add_missing_partners(std::vector<std::string>& sentences, const CoilReadings& readings) {
    const auto missing = [&](bool has, bool has_partner, const char* what, const char* partner) {
        if (has && !has_partner) {
            sentences.push_back(fmt::format("{} says nothing yet without {}.", what, partner));
        }
    };
    const bool sample_length = readings.sample_length.has_value();
    const bool sample_weight = readings.sample_weight.has_value();
    missing(sample_weight, sample_length, "The sample's weight", "the sample's length");
    missing(sample_length, sample_weight, "The sample's length", "the sample's weight");
    missing(readings.whole_weight.has_value(), readings.whole_length.has_value(),
            "The whole coil's weight", "the whole coil's length");
    missing(readings.submerged_weight.has_value(), sample_weight, "The weight under water",
            "the same piece's weight in air");
    missing(readings.sink_time.has_value(), readings.sink_distance.has_value(),
            "The time of a drop", "its distance");
    missing(readings.sink_distance.has_value(), readings.sink_time.has_value(),
            "The distance of a drop", "its time");
}

}  // namespace

std::vector<std::string> reasons(const CoilReadings& readings, const ReferenceLibrary& library,
                                 const Verdict& verdict, const std::vector<std::string>& warnings,
                                 const Units& units) {
    std::vector<std::string> sentences;
    if (const auto& mixup = verdict.mixup) {
        sentences.push_back(mixup_sentence(*mixup, library[mixup->best].name));
    }
    sentences.insert(sentences.end(), warnings.begin(), warnings.end());
    sentences.push_back(measured_sentence(verdict.facts, units));
    if (verdict.facts.sink_rate) {
        sentences.push_back(sinking_sentence(*verdict.facts.sink_rate, units));
    }
    sentences.push_back(best_sentence(library, verdict, units));
    add_rivals(sentences, library, verdict);
    add_missing_partners(sentences, readings);
    if (!verdict.advice.empty()) {
        const auto& next = verdict.advice.front();
        sentences.push_back(fmt::format("Next, {}: expected to tell {} bits.", next.how,
                                        significant(next.bits, 2)));
    }
    return sentences;
}

}  // namespace coilbook
