// Repeatability and reproducibility: is the instrument, in the hands that use it, good enough to
// tell the coils apart?
//
// Several coils are each read several times by several people. The scatter of all readings is then
// taken apart: one person reading the same coil again (repeatability), people against each other
// (reproducibility, which here includes that one person differs more on some coils than on others),
// and the coils themselves. A crossed two-factor analysis of variance with both factors taken as
// samples of a larger lot; parts of the variance that come out negative are zero.
// Source: the method of the industry's measurement-systems manual (4th ed., from memory); mean
// squares as in any text on analysis of variance with random factors.
// Assumes readings that scatter alike on all coils. Leaves out a drift during the study.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "quantity/units.h"

namespace coilbook {

template <class Q>
struct GaugeReading {
    std::string coil;
    std::string person;
    Q reading{};
};

// The interaction of person and coil is left in only if an F test finds it at this level; else its
// variation is pooled with the repeated readings, which steadies the answer. The level is generous,
// since a small study finds little: leaving a real interaction out would understate the error,
// leaving a false one in costs a few degrees of freedom (common practice, no published source).
inline constexpr double interaction_level = 0.25;

// One line of the analysis. Sums of squares are in SI units of the reading, squared.
struct AnovaLine {
    double sum_of_squares = 0.0;
    int degrees_of_freedom = 0;

    [[nodiscard]] double mean_square() const {
        return degrees_of_freedom > 0 ? sum_of_squares / degrees_of_freedom : 0.0;
    }
};

template <class Q>
struct GaugeStudy {
    int coils = 0, people = 0, repeats = 0;
    AnovaLine between_coils, between_people, interaction, repeating;
    // F and its chance against pure scatter; nothing without two coils and two people.
    std::optional<double> interaction_f, interaction_chance;
    bool is_pooled = false;  // the interaction was put to the repeating

    // Standard deviations.
    Q repeatability{};    // one person, one coil
    Q people_differ{};    // one person against another
    Q people_by_coil{};   // and that on some coils more than on others
    Q reproducibility{};  // the last two together
    Q gauge{};            // repeatability and reproducibility: one reading by anybody
    Q coils_differ{};
    Q total{};

    // The gauge's part of the whole standard deviation and of the whole variance, 0 … 1.
    [[nodiscard]] double part_of_spread() const { return total.si() > 0 ? gauge / total : 0.0; }
    [[nodiscard]] double part_of_variance() const { return part_of_spread() * part_of_spread(); }
    // How many groups of coils readings can tell apart, 1.41 · coils / gauge; the factor is √2 as
    // the manual rounds it. Infinite where readings do not scatter.
    [[nodiscard]] double groups_told_apart() const { return 1.41 * (coils_differ / gauge); }
};

// The study in the readings, in any order. A Problem unless each person read each coil equally
// often and at least twice. One coil alone will do (then nothing is said of coils), and so will one
// person.
template <class Q>
[[nodiscard]] Result<GaugeStudy<Q>> gauge_study(const std::vector<GaugeReading<Q>>& readings);

}  // namespace coilbook
