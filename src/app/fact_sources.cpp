#include "app/fact_sources.h"

#include <algorithm>

#include "identify/evidence.h"
#include "identify/facts.h"
#include "quantity/print.h"
#include "store/reading_repository.h"

namespace coilbook::app {
namespace {

template <class Q>
std::string words_of(const std::optional<Measured<Q>>& fact, NamedUnit<Q> unit) {
    return fact ? in_unit_with_uncertainty(fact->value, fact->uncertainty, unit) : std::string();
}

std::string spoken_name(ReadingField field) {
    std::string words(name_of(field));
    std::ranges::replace(words, '_', ' ');
    return words;
}

// "scale B", "the usual scale".
std::string instrument_of(const Reading& reading, const CoilReadings& values) {
    const auto named = [](const char* kind, const std::string& code) {
        return code.empty() ? std::string("the usual ") + kind : std::string(kind) + " " + code;
    };
    switch (reading.field) {
        case ReadingField::sample_length:
        case ReadingField::whole_length:
        case ReadingField::sink_distance:
            return named("tape", values.tape);
        case ReadingField::sample_weight:
        case ReadingField::whole_weight:
        case ReadingField::submerged_weight:
            return named("scale", values.scale);
        case ReadingField::diameters:
            return named("micrometer", values.micrometer);
        case ReadingField::sink_time:
            return "the stopwatch";
        case ReadingField::water_temperature:
            return "the thermometer";
        case ReadingField::tint:
        case ReadingField::taper:
        case ReadingField::floats:
            break;
    }
    return "";
}

// "0.955 mm" and "0.963 mm" are "0.955, 0.963 mm".
void add_written(std::string& all, const std::string& more) {
    const auto unit = more.rfind(' ');
    if (unit != std::string::npos && all.ends_with(more.substr(unit))) {
        all.resize(all.size() - (more.size() - unit));
    }
    all += ", " + more;
}

std::vector<ReadingBehind> behind(const std::vector<ReadingField>& fields,
                                  const std::vector<Reading>& readings,
                                  const CoilReadings& values) {
    std::vector<ReadingBehind> found;
    for (const auto field : fields) {
        for (const auto& reading : readings) {
            if (reading.field != field) continue;
            if (!found.empty() && found.back().what == spoken_name(field)) {
                add_written(found.back().as_written, reading.as_written);
                continue;
            }
            found.push_back(
                {spoken_name(field), reading.as_written, instrument_of(reading, values)});
        }
    }
    return found;
}

bool rests_on(const FactBudget& budget, ReadingField field) {
    return std::ranges::find(budget.rests_on, field) != budget.rests_on.end();
}

std::string weight_formula(const FactBudget& budget) {
    const bool by_sample = rests_on(budget, ReadingField::sample_weight);
    const bool by_whole = rests_on(budget, ReadingField::whole_weight);
    if (by_sample && by_whole) {
        return "λ = weight / length, of the piece and of the whole coil, each by its certainty";
    }
    if (by_whole) return "λ = weight of the coil / its length";
    return "λ = weight of the piece / its length";
}

std::string density_formula(const FactBudget& budget) {
    const bool by_diameter = rests_on(budget, ReadingField::diameters);
    const bool by_water = rests_on(budget, ReadingField::submerged_weight);
    const bool by_drop = rests_on(budget, ReadingField::sink_time);
    const std::string water = "ρ = ρ(water) × weight / (weight − weight in water)";
    const std::string round = "ρ = 4 λ / (π d²)";
    std::string formula = by_water ? (by_diameter ? water + ", and " + round : water)
                                   : (by_diameter ? round : std::string());
    if (by_drop) {
        formula += formula.empty() ? "from the timed drop, by the drag law"
                                   : ", and the timed drop, by the drag law";
    }
    return formula;
}

std::string diameter_formula(const FactBudget& budget) {
    const bool by_diameter = rests_on(budget, ReadingField::diameters);
    const bool by_more = rests_on(budget, ReadingField::submerged_weight) ||
                         rests_on(budget, ReadingField::sink_time);
    const std::string mean = "d = the mean of the micrometer's readings";
    if (!by_diameter) return "d = √(4 λ / (π ρ))";
    return by_more ? mean + ", and √(4 λ / (π ρ)), each by its certainty" : mean;
}

constexpr const char* least_squares =
    "Several ways to one figure are brought together by least squares (GUM, JCGM 100:2008).";

}  // namespace

std::string_view words_for(ErrorOrigin origin) {
    switch (origin) {
        case ErrorOrigin::scale:
            return "scale";
        case ErrorOrigin::tape:
            return "tape";
        case ErrorOrigin::micrometer:
            return "micrometer";
        case ErrorOrigin::soft_coating:
            return "coating, squeezed";
        case ErrorOrigin::stopwatch:
            return "stopwatch";
        case ErrorOrigin::thermometer:
            return "water temperature";
        case ErrorOrigin::taper:
            return "taper";
        case ErrorOrigin::own_word:
            return "stated by hand";
        case ErrorOrigin::drag_law:
            return "drag law";
    }
    return "";
}

std::vector<FactSource> fact_sources(Workshop& workshop, const Coil& coil, const Units& units) {
    const auto values = workshop.catalogue().readings().readings_of(coil.id);
    const auto readings = workshop.catalogue().readings().current_of(coil.id);
    const auto water = fresh_water_at_10_C();
    const auto evidence = evidence_of(values, workshop.instruments());
    const Facts facts = evidence ? fit_facts(*evidence, water).facts : Facts{};
    const auto budgets = budgets_of(values, workshop.instruments(), water).value_or(FactBudgets{});
    const auto source = [&](std::string_view name, std::string value, const FactBudget& budget,
                            std::string formula, std::string basis, std::string_view lacks) {
        FactSource made{std::string(name), std::move(value), {}, {}, {}, {}, {}};
        if (made.value.empty()) {
            made.lacks = lacks;
            return made;
        }
        made.formula = std::move(formula);
        made.basis = std::move(basis);
        made.readings = behind(budget.rests_on, readings, values);
        for (const auto& part : budget.parts) {
            made.budget.push_back({std::string(words_for(part.origin)), part.share});
        }
        return made;
    };
    auto rate = facts.sink_rate;
    const bool rises = rate && rate->value < Speed{};
    if (rises) rate->value = -rate->value;
    return {
        source(units.weight_per_length_name,
               words_of(facts.linear_density, units.weight_per_length), budgets.linear_density,
               weight_formula(budgets.linear_density),
               std::string(units.of(
                   "The definition. 1 gr is 64.798 91 mg and 1 ft is 0.3048 m, both exactly.",
                   "The definition. Of what was noted in grains or feet, 1 gr is 64.798 91 mg and "
                   "1 ft is 0.3048 m, both exactly.")),
               "Weigh a piece and measure its length."),
        source("Diameter", words_of(facts.diameter, units.diameter), budgets.diameter,
               diameter_formula(budgets.diameter), std::string("A round line. ") + least_squares,
               "Measure the diameter in three places."),
        source("Density", words_of(facts.density, units.density), budgets.density,
               density_formula(budgets.density),
               std::string("Weight over volume of a round line; Archimedes' law. Density of water: "
                           "Tanaka et al., Metrologia 38 (2001) 301. ") +
                   least_squares,
               "Measure the diameter, or weigh the piece hanging in water."),
        source(
            rises ? "Rises, still water" : "Sinks, still water", words_of(rate, units.sink_rate),
            budgets.sink_rate, "C_D(Re) Re² = (π/2) g d³ (ρ/ρ(water) − 1) / ν²,  v = Re ν / d",
            "Balance of forces on a level line; drag of a cylinder by Cheng, J. Hydraul. Eng. 139 "
            "(2013); water of 10 °C by Tanaka (2001) and IAPWS SR6-08.",
            units.of("Weight per foot and diameter tell it; a timed drop makes it surer.",
                     "Weight per metre and diameter tell it; a timed drop makes it surer.")),
    };
}

}  // namespace coilbook::app
