// Where one coil is and was, and which rods it can be cast with: what a page about it says.
//
// Looks up no more than that coil, so that it costs the same in a bin of a hundred thousand.
#pragma once

#include <string>
#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"
#include "catalog/facets.h"

namespace coilbook::app {

struct CoilPlace {
    std::string now;  // "in the wallet of rig R1, the rig with boat Heron"
    struct Step {
        Instant at;
        std::string place, by, note;
    };
    std::vector<Step> steps;   // the handovers, the last first
    bool is_disputed = false;  // copies that were apart both handed it over
};
[[nodiscard]] CoilPlace place_of(Workshop& workshop, const Coil& coil);

// What a coil of that class balances on as a tip (rigging/tip_fit.h).
struct CoilBalance {
    std::vector<LineSize> sizes;
    std::vector<std::string> rigs;  // codes of the rigs with a line of one of these sizes
    std::string unknown;            // why nothing can be said; empty where something can
};
// `weight` is the coil's own, where it was read. An empty class name says that it is not known.
[[nodiscard]] CoilBalance balance_of(Workshop& workshop, const std::string& class_name,
                                     const std::optional<LinearDensity>& weight);

}  // namespace coilbook::app
