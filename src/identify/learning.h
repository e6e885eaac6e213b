// Learning from confirmed coils: what a class turns out to be in this bin.
//
// A built-in class says how lines of one name differ over all makers and years. The coils of one
// bin mostly come from few spools, so each confirmed one tells where this bin's lines of that name
// lie, and how much they differ among themselves. The rule is the conjugate one of a normal
// distribution with unknown mean μ and covariance Σ, the normal-inverse-Wishart distribution:
//
//   κn = κ0 + n    νn = ν0 + n    μn = (κ0 μ0 + n x̄) / κn
//   Ψn = Ψ0 + Σ (xi − x̄)(xi − x̄)ᵀ + κ0 n / κn (x̄ − μ0)(x̄ − μ0)ᵀ
//   the next line: Student t, νn − 1 degrees of freedom, mean μn, scale Ψn (κn + 1) / (κn (νn − 1))
//
// Sources: Murphy, Conjugate Bayesian analysis of the Gaussian distribution (2007), section 9;
// Gelman et al., Bayesian Data Analysis, section 3.6 (both from memory; the numbers are checked).
//
// A coil is known only by its readings, which have errors of their own and may leave a direction
// open. So the true line θi of each coil is a further unknown: given Σ, μ and all θi are normal in
// closed form, and Σ is the fixed point of Ψ = Ψ0 + the expected scatter (variational Bayes, that
// is expectation–maximisation with the covariance's distribution kept: Attias 1999; Beal 2003;
// from memory). With exact readings this is the conjugate rule to the last digit. A coil adds to ν
// only in the directions that its readings determine: weights teach nothing about density. The
// Student t has one number of degrees of freedom; it is that of the least known direction, while
// each direction keeps the variance that its own ν gives.
//
// Everything is made anew from the built-in class and the whole set of coils, in the order of their
// keys: taking a confirmation back leaves no trace, and the order of confirming does not matter.
// Assumes that a class is one kind of line. Leaves out: tint, taper and lengths, which stay as
// built in; an instrument's error that all coils share. By simulation (1500 bins each, four coils
// of one class with the default scale and micrometer, 12 or 24 in, four classes of 3 to 11 gr/ft)
// that matters little: a further coil lies 1.02 to 1.05 times as far out, squared, as foretold,
// against 0.98 to 1.05 with errors of each coil's own, and the class's mean 1.38 to 1.48
// against 1.28 to 1.34.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "catalog/reference_class.h"
#include "identify/line_information.h"

namespace coilbook {

// How many confirmed coils the built-in mean is worth, κ0. At ½, two thirds of a built-in class's
// variance is how its mean differs from bin to bin (other makers, other years) and one third is how
// coils of one bin differ: lines of one spool are more alike than lines of one name (own
// assumption). Ten coils leave 1/21 of the way from the built-in mean to theirs.
inline constexpr double coils_behind_built_in_mean = 0.5;
// The same of a class that was named in this bin. Its figures came from the very coils that are
// confirmed as it, so they may not count once more beside them: the mean is all but free, as that
// of any line is (the square of 0.012 over 0.9, same_line.h, is as good as nothing).
inline constexpr double coils_behind_own_mean = 0.0002;
// How many the built-in covariance is worth, ν0: its shape counts as if found from ten coils, so
// that five alike by chance do not make a needle of the class (own assumption). Above 3, or there
// would be no covariance to match.
inline constexpr double coils_behind_built_in_spread = 10.0;
// A confirmed coil that the others of its class would bring up less often than this is set aside:
// one right coil in a thousand is lost, and a coil of a neighbouring class is found.
inline constexpr double wrong_confirmation_chance = 0.001;

// The distribution of an unknown mean and covariance.
struct NormalInverseWishart {
    LinePoint mean;          // μ
    double kappa;            // κ, above 0
    double nu;               // ν, above 1
    Eigen::Matrix2d spread;  // Ψ, positive definite
};

// A bivariate Student t; its covariance is scale · df / (df − 2).
struct StudentT2 {
    LinePoint mean;
    Eigen::Matrix2d scale;
    double degrees_of_freedom;
};

// The prior of a class, whose predictive has the class's mean and covariance C:
// Ψ0 = C κ0 (ν0 − 3) / (κ0 + 1). Of C, κ0/(κ0 + 1) is within a bin and 1/(κ0 + 1) of the mean.
[[nodiscard]] NormalInverseWishart prior_of(const LineDistribution& built_in);
// The prior of a class that is one line of this bin's, near `about`: its coils differ among
// themselves as coils of one line do (same_line.h), and it may lie anywhere.
[[nodiscard]] NormalInverseWishart prior_of_one_line(const LinePoint& about);
// The conjugate rule for lines that are known exactly.
[[nodiscard]] NormalInverseWishart updated(const NormalInverseWishart& prior,
                                           const std::vector<LinePoint>& lines);
// The next line. REQUIRES: nu > 1.
[[nodiscard]] StudentT2 predictive(const NormalInverseWishart& beliefs);
// ln of the density at `point`.
[[nodiscard]] double ln_density(const StudentT2& distribution, const LinePoint& point);

// A coil that somebody gave his word for.
struct ConfirmedCoil {
    std::string key;  // its id: unique, and the order in which sums are made
    LineInformation line;
};

// A confirmed coil that the other ones of its class speak against.
struct SetAside {
    std::string key;
    double chance;  // that a right one lies as far out or farther

    bool operator==(const SetAside&) const = default;
};

// A class before and after.
struct Learned {
    LineDistribution before;
    LineDistribution after;           // a Student t; equal to `before` where nothing was learned
    Gaussian2 mean;                   // where the class's mean is, and how surely
    Eigen::Matrix2d within;           // how coils of the class differ among themselves
    double kappa;                     // coils behind the mean, the built-in ones of κ0 included
    double nu;                        // the same of the spread, in its least known direction
    int used = 0;                     // coils that taught something
    std::vector<SetAside> set_aside;  // the worst first
};

// What the coils teach about a class. Coils whose readings say nothing are passed over; those that
// do not fit the others (each judged with the others alone, its own errors of reading included) are
// set aside, the worst first, one at a time.
[[nodiscard]] Learned learn(const LineDistribution& built_in, std::vector<ConfirmedCoil> coils);
// The same with another prior. `before` stands while nothing is learned.
[[nodiscard]] Learned learn(const LineDistribution& before, const NormalInverseWishart& prior,
                            std::vector<ConfirmedCoil> coils);

// A coil and what it was confirmed as.
struct ConfirmedAs {
    std::string key;
    std::string class_name;
    LineInformation line;
};

// A confirmed coil that now looks wrong.
struct DoubtfulCoil {
    std::string key;
    std::string class_name;
    double chance;  // as in SetAside
    // The class that its weight and density fit better, given all that was learned; `unlisted`
    // where no listed one does; nothing where even that is no better.
    std::optional<std::string> better_class;

    bool operator==(const DoubtfulCoil&) const = default;
};

struct LearnedLibrary {
    ReferenceLibrary library;      // with what was learned, `confirmed` as in the built-in one
    std::vector<Learned> classes;  // one for each class, in the library's order
    std::vector<DoubtfulCoil> doubtful;  // by class, the worst first
};

// Every class with its confirmed coils, one that was named in this bin with prior_of_one_line().
// `unlisted` learns nothing: it is no kind of line. Coils of classes that the library does not have
// are passed over.
[[nodiscard]] LearnedLibrary learn_library(const ReferenceLibrary& built_in,
                                           const std::vector<ConfirmedAs>& coils);

}  // namespace coilbook
