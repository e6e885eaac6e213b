#include "identify/consistency.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "quantity/print.h"

namespace coilbook {
namespace {

template <class Q>
void judge(std::vector<std::string>& sentences, const std::optional<Measured<Q>>& fact, Q least,
           Q most, const char* name, NamedUnit<Q> unit) {
    if (!fact) return;
    const bool below = fact->value + 2.0 * fact->uncertainty < least;
    const bool above = fact->value - 2.0 * fact->uncertainty > most;
    if (!below && !above) return;
    sentences.push_back(fmt::format("{} of {} is {} any fishing line ({} to {}).", name,
                                    in_unit_with_uncertainty(fact->value, fact->uncertainty, unit),
                                    below ? "below" : "above", significant(least.in(unit.size), 2),
                                    in_unit(most, unit, 2)));
}

Stated<Mass> scaled(const Stated<Mass>& weight, double factor) {
    Stated<Mass> result{factor * weight.value, {}};
    if (weight.uncertainty) result.uncertainty = factor * *weight.uncertainty;
    return result;
}

bool diameters_disagree(const CoilReadings& readings) {
    return readings.diameters.size() > 1 && readings.taper != Taper::tapered &&
           mean_diameter(readings).spread > level_diameter_spread;
}

bool can_be(const CoilReadings& readings, MixedUp which) {
    switch (which) {
        case MixedUp::sample:
            return weighed_sample(readings).has_value();
        case MixedUp::whole:
            return weighed_whole(readings).has_value();
        case MixedUp::submerged:
            return weighed_sample(readings).has_value() && readings.submerged_weight.has_value();
        case MixedUp::all_weights: {
            const int weights = int{can_be(readings, MixedUp::sample)} +
                                int{can_be(readings, MixedUp::whole)} +
                                int{can_be(readings, MixedUp::submerged)};
            return weights >= 2;
        }
    }
    return false;
}

}  // namespace

std::vector<std::string> contradictions(const CoilReadings& readings, const Evidence& evidence,
                                        const Fit& fit) {
    std::vector<std::string> sentences;
    if (!fit.possible) {
        sentences.push_back("By its other readings it cannot sink, and yet a drop was timed.");
    }
    if (fit.contradictory) {
        sentences.push_back(
            "The readings contradict each other by far more than their uncertainties; take the "
            "doubtful one again.");
    }
    if (readings.submerged_weight && readings.sample_weight &&
        readings.submerged_weight->value >= readings.sample_weight->value) {
        sentences.push_back("It cannot weigh as much under water as in air.");
    }
    if (diameters_disagree(readings)) {
        sentences.push_back(fmt::format(
            "The diameters differ by {:.0f} %: either the coil is tapered or one is misread.",
            100.0 * mean_diameter(readings).spread));
    }
    if (readings.floats == true && evidence.drop) {
        sentences.push_back("It is noted to float, and yet a drop was timed.");
    }
    if (readings.floats && fit.facts.density) {
        const auto& density = *fit.facts.density;
        const Density water = evidence.water.density;
        const bool surely_heavier = density.value - 4.0 * density.uncertainty > water;
        const bool surely_lighter = density.value + 4.0 * density.uncertainty < water;
        if (*readings.floats ? surely_heavier : surely_lighter) {
            sentences.push_back(
                fmt::format("It is noted to {}, but by weight and size its density is {}.",
                            *readings.floats ? "float" : "sink",
                            in_unit_with_uncertainty(density.value, density.uncertainty,
                                                     {"g/cm3", gram_per_cubic_centimetre})));
        }
    }
    return sentences;
}

std::vector<std::string> implausibilities(const Facts& facts, const Units& units) {
    std::vector<std::string> sentences;
    judge<LinearDensity>(sentences, facts.linear_density, 0.4 * grain_per_foot,
                         40.0 * grain_per_foot, "A weight", units.weight_per_length);
    judge<Density>(sentences, facts.density, 0.5 * gram_per_cubic_centimetre,
                   7.0 * gram_per_cubic_centimetre, "A density",
                   {"g/cm3", gram_per_cubic_centimetre});
    judge<Length>(sentences, facts.diameter, 0.2 * millimetre, 3.0 * millimetre, "A diameter",
                  units.diameter);
    return sentences;
}

std::vector<ReadingField> mixed_up_fields(const CoilReadings& readings, const UnitMixup& mixup) {
    std::vector<ReadingField> fields;
    const auto add = [&](ReadingField field, MixedUp which) {
        const bool affected = mixup.which == which || mixup.which == MixedUp::all_weights;
        if (affected && has(readings, field)) fields.push_back(field);
    };
    add(ReadingField::sample_weight, MixedUp::sample);
    add(ReadingField::whole_weight, MixedUp::whole);
    add(ReadingField::submerged_weight, MixedUp::submerged);
    return fields;
}

CoilReadings as_meant(const CoilReadings& readings, const UnitMixup& mixup) {
    const double factor = mixup.noted_as_grains ? gram / grain : grain / gram;
    CoilReadings meant = readings;
    const auto rescale = [&](std::optional<Stated<Mass>>& weight, MixedUp which) {
        const bool affected = mixup.which == which || mixup.which == MixedUp::all_weights;
        if (affected && weight) weight = scaled(*weight, factor);
    };
    rescale(meant.sample_weight, MixedUp::sample);
    rescale(meant.whole_weight, MixedUp::whole);
    rescale(meant.submerged_weight, MixedUp::submerged);
    return meant;
}

std::optional<UnitMixup> unit_mixup(const CoilReadings& readings, const Instruments& instruments,
                                    double ln_likelihood, Posterior& posterior) {
    // Only a mix-up that leaves nothing odd explains anything, and no weight mends diameters.
    if (diameters_disagree(readings)) return std::nullopt;
    std::vector<UnitMixup> suspects;
    for (const auto which :
         {MixedUp::sample, MixedUp::whole, MixedUp::submerged, MixedUp::all_weights}) {
        for (const bool noted_as_grains : {true, false}) {
            if (can_be(readings, which)) suspects.push_back({which, noted_as_grains, 0.0, 0});
        }
    }
    if (suspects.empty()) return std::nullopt;
    const double prior = mixup_rate / static_cast<double>(suspects.size());
    double all = 1.0 - mixup_rate;  // likelihoods over that of the readings as noted
    for (auto& suspect : suspects) {
        const auto meant = as_meant(readings, suspect);
        const auto straight = straight_evidence_of(meant, instruments);
        if (!straight) continue;  // scaled, the weight is no line's
        const auto fit = fit_facts(*straight, fresh_water_at_10_C());
        if (!contradictions(meant, *straight, fit).empty() ||
            !implausibilities(fit.facts).empty()) {
            continue;
        }
        const auto evidence = evidence_of(meant, instruments);
        assert(evidence && "it is refused or not, whichever way it is looked at");
        const double ln_meant = posterior.take_up(*evidence);
        const auto probabilities = posterior.probabilities();
        const auto highest = std::ranges::max_element(probabilities);
        suspect.best = static_cast<std::size_t>(highest - probabilities.begin());
        // Bounded, so that readings far from everything do not overflow.
        suspect.probability = prior * std::exp(std::min(ln_meant - ln_likelihood, 600.0));
        all += suspect.probability;
    }
    const UnitMixup* likeliest = &suspects.front();
    double any = 0.0;
    for (auto& suspect : suspects) {
        suspect.probability /= all;
        any += suspect.probability;
        if (suspect.probability > likeliest->probability) likeliest = &suspect;
    }
    if (any <= 0.5) return std::nullopt;
    return *likeliest;
}

}  // namespace coilbook
