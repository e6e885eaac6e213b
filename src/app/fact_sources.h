// Each fact about a coil with where it comes from: the readings it rests on, the formula, its
// source, and which instruments its uncertainty is due to.
#pragma once

#include <string>
#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"
#include "identify/fact_budget.h"
#include "quantity/unit_set.h"

namespace coilbook::app {

// A reading behind a fact, in words: "sample weight", "22.4 gr", "scale B"; of diameters all in
// one.
struct ReadingBehind {
    std::string what;
    std::string as_written;
    std::string instrument;
};

struct FactSource {
    std::string name;     // "Weight per foot"; of metres in the other units
    std::string value;    // "11.20 ± 0.03 gr/ft"; empty where it is not known
    std::string lacks;    // of one that is not known: what would tell it
    std::string formula;  // in words and signs: "ρ = 4 λ / (π d²)"
    std::string basis;    // where the formula and its constants are from
    std::vector<ReadingBehind> readings;
    struct Part {
        std::string origin;  // "scale", "drag law"
        double share;        // of the variance, 0 to 1
    };
    std::vector<Part> budget;  // the largest first
};

// Weight per foot, diameter, density and sink rate (still fresh water, 10 °C), in that order. Where
// the readings cannot be weighed up, none is known. Throws Error.
[[nodiscard]] std::vector<FactSource> fact_sources(Workshop& workshop, const Coil& coil,
                                                   const Units& units = grains_and_feet);

[[nodiscard]] std::string_view words_for(ErrorOrigin origin);

}  // namespace coilbook::app
