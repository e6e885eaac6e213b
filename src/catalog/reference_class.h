// An entry of the reference library: a kind of line that a coil may turn out to be.
//
// A class is a distribution over (ln weight per foot, ln density), since lines of one name differ
// by so many per cent, together with softer knowledge: tint, taper, usual lengths. All of it is
// data (assets/reference_library.csv), and `basis` says where its figures come from.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "catalog/facets.h"
#include "quantity/units.h"

namespace coilbook {

// A bivariate normal distribution over x = ln(weight per length / (1 gr/ft)) and
// y = ln(density / (1 g/cm3)). Standard deviations above zero, correlation within -1 … 1.
// A class that was learned from few coils is a bivariate Student t with these standard deviations:
// `degrees_of_freedom`, above 2, says how heavy its tails are; nothing means normal.
struct LineDistribution {
    double ln_grains_per_foot_mean;
    double ln_grains_per_foot_sd;
    double ln_density_mean;
    double ln_density_sd;
    double correlation;
    std::optional<double> degrees_of_freedom = std::nullopt;

    bool operator==(const LineDistribution&) const = default;
};

// Usual lengths as sold: one of them, give or take; nothing for line that is cut to any length.
struct UsualLengths {
    std::vector<Length> lengths;
    double relative_sd;  // a tip of nominally 15 ft is 15 ft to so much, one standard deviation

    bool operator==(const UsualLengths&) const = default;
};

struct ReferenceClass {
    std::string name;  // unique: "T-11", "size 8 type 6", "leader 5 in/s", "floating", "unlisted"
    std::optional<Family> family;
    std::optional<GrainClass> grain_class;
    std::optional<DensityGrade> density_grade;
    std::optional<LineSize> line_size;
    double weight;  // prior weight, above zero; only ratios count
    LineDistribution line;
    double tapered;               // probability that it is found tapered, 0 … 1
    std::array<double, 5> tints;  // probability of each tint, in the order of all_tints; sum 1
    std::optional<UsualLengths> usual;
    std::string basis;  // where the figures come from, in words
    int confirmed = 0;  // confirmed coils behind it

    bool operator==(const ReferenceClass&) const = default;
};

// The reference library: the classes in a fixed order. Exactly one is `unlisted`.
using ReferenceLibrary = std::vector<ReferenceClass>;

}  // namespace coilbook
