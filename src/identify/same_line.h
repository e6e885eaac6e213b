// Which coils of a bin are the same stuff as one another, listed or not.
//
// Two coils are of one line when one line explains both sets of readings better than two do. Lines
// differ widely; coils of one line differ by little; each coil is known as well as its readings
// say. With θ a line's ln weight per foot and ln density, and Li the likelihood of the readings of
// coil i given θ (its own difference from its line integrated out), the coils of a group have
//
//     Z(group) = ∫ N(θ; any line) Π Li(θ) dθ        ln odds of one line = ln Z(both) − ln Z − ln Z′
//     + prior
//
// in closed form, also where readings leave a direction open (Bayesian hierarchical clustering,
// Heller and Ghahramani 2005; from memory).
// Groups grow from single coils, the most certain pair first; then each coil is held against all
// groups near it and moves to where it belongs most probably, or stays alone where that is no more
// likely than not (one that was only weighed fits every line of its weight). Only neighbours in
// weight per foot are compared. Answers depend neither on the order of the coils nor on chance.
// Leaves out: coils whose weight per foot was not read (they stay alone), tint and lengths (one
// line is cut to any length and its tint is a matter of light), two lines that differ by less than
// coils of one line do, and that errors of one scale are shared: taken as each coil's own they make
// a group's weight per foot look surer than it is. For four coils, 24 in on a scale of 0.1 gr, that
// is 0.61 instead of 0.65 % at 11 gr/ft, 0.77 instead of 1.13 % at 3 gr/ft (by the variances
// above).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/reference_class.h"
#include "identify/line_information.h"

namespace coilbook {

// How coils of one line differ: a spool is even to about a per cent in weight, and coatings of one
// batch to some three in density (own assumption; a third of the variance of a built-in class, as
// learning.h has it, would be 1.7 and 5 % and hold several batches).
inline constexpr double within_line_ln_weight_sd = 0.012;
inline constexpr double within_line_ln_density_sd = 0.03;
// Lines at all: 2.5 to 20 gr/ft and 0.9 to 5 g/cm3 within a standard deviation or so, like the
// built-in `unlisted`.
inline constexpr double any_line_ln_weight_mean = 1.95;  // 7 gr/ft
inline constexpr double any_line_ln_weight_sd = 0.9;
inline constexpr double any_line_ln_density_mean = 0.75;  // 2.1 g/cm3
inline constexpr double any_line_ln_density_sd = 0.55;
// Two coils taken from a bin without looking are of one line once in so many and one more (own
// assumption: an outfit has some thirty kinds); α of Ewens' formula for partitions.
inline constexpr double kinds_in_a_bin = 30.0;
// Coils are compared with so many neighbours in weight per foot on either side at first; groups
// inherit the neighbours of their coils.
inline constexpr int neighbours_compared = 30;

// A coil to be grouped.
struct BinCoilLine {
    std::string code;  // unique
    LineInformation line;
    std::optional<Tint> tint;
    std::optional<Taper> taper;
};

// Coils that are one line.
struct LineGroup {
    std::vector<std::string> codes;  // sorted
    // How probably each belongs here, rather than to another group or alone, given the others.
    std::vector<double> probabilities;
    Gaussian2 line;  // of the line: mean, and how surely it is known
};

// The groups: by weight per foot, lightest first, single coils included; of equal ones, by code.
// REQUIRES: codes are unique.
[[nodiscard]] std::vector<LineGroup> same_lines(std::vector<BinCoilLine> coils);

// These coils as one group, because somebody says so. REQUIRES: at least one coil.
[[nodiscard]] LineGroup one_group_of(std::vector<BinCoilLine> coils);

// ln of the odds that coils a and b are one line, with the prior of kinds_in_a_bin.
[[nodiscard]] double ln_odds_of_one_line(const LineInformation& a, const LineInformation& b);

// What the library has to say about a group's line.
struct GroupName {
    // The most probable class; nothing where the library has none for it: it is unlisted.
    std::optional<std::size_t> listed;
    double probability = 0.0;  // of that class, or of `unlisted`
};
// REQUIRES: the library has exactly one class of family unlisted.
[[nodiscard]] GroupName name_of_group(const LineGroup& group, const ReferenceLibrary& library);

// A new class for the line of a group: its weight and density as found, coils spread about it as
// coils of one line do, tint and taper as they were seen on its coils. `coils` holds those of the
// group at least. Its prior weight is the mean of the listed classes of `library`.
// Its basis says so, and is_named_here() knows it by that. A Problem for a name that is empty, no
// plain text or taken.
[[nodiscard]] Result<ReferenceClass> class_from_group(const std::string& name,
                                                      std::optional<Family> family,
                                                      const LineGroup& group,
                                                      const std::vector<BinCoilLine>& coils,
                                                      const ReferenceLibrary& library);
[[nodiscard]] bool is_named_here(const ReferenceClass& reference);

// How coils of one line differ, as a covariance of (ln weight per foot, ln density).
[[nodiscard]] Eigen::Matrix2d within_line_covariance();

}  // namespace coilbook
