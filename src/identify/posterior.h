// How probable each class of the library is, given the evidence: the heart of identification.
//
// For class k with its distribution over θ = (ln weight per foot, ln density),
//
//     P(k | readings)  ∝  weight_k · P(soft readings | k) · ∫ N(θ; k) L(readings | θ) dθ.
//
// The straight part of L is a sum of bells, which makes the integral a closed form; a timed drop
// bends and is integrated over what each bell leaves, by a Gauss–Hermite rule laid around the peak
// (adaptive, as in Liu and Pierce, Biometrika 81 (1994) 624): 7 x 7 nodes, or 5 x 5 where the line
// is well known already.
#pragma once

#include <span>
#include <vector>

#include "identify/evidence.h"
#include "identify/gaussian2.h"
#include "identify/prepared_library.h"

namespace coilbook {

// What the evidence makes of one distribution over θ.
struct LineUpdate {
    double ln_likelihood;  // ln ∫ N(θ) L(θ) dθ; minus infinity where no such line is possible
    Gaussian2 line;        // mean and covariance of θ after the readings
};

// `prior` after the measured readings of `evidence` (not tint, taper, floating, whole length).
[[nodiscard]] LineUpdate update(const Gaussian2& prior, const Evidence& evidence);

// Works out posteriors over one library, coil after coil. Its memory is made once and reused, so
// that a coil allocates nothing; for the same reason it may not be shared by threads.
class Posterior {
  public:
    // `library` must outlive this.
    explicit Posterior(const PreparedLibrary& library);

    // Takes up a coil; `evidence` must outlive the use of line_of(). Gives ln of the total
    // likelihood of its readings. Readings that exclude every line at all (a drop timed on what
    // cannot sink) leave `unlisted`, and minus infinity.
    double take_up(const Evidence& evidence);

    // One for each class, in the library's order; they sum to 1 within 1e-12. Classes below 1e-20
    // of the best one are given as 0.
    [[nodiscard]] std::span<const double> probabilities() const { return probabilities_; }
    // The classes above 0, in the library's order.
    [[nodiscard]] std::span<const std::size_t> contenders() const { return contenders_; }
    // Mean and covariance of θ under class k after the measured readings.
    [[nodiscard]] Gaussian2 line_of(std::size_t k) const;

  private:
    void weigh_one_bell();
    void weigh_many_bells();
    void weigh_drop();
    [[nodiscard]] double soft_likelihood(std::size_t k) const;

    const PreparedLibrary& library_;
    const Evidence* evidence_ = nullptr;
    // For each component, ln of share · likelihood; what a drop has made of θ.
    std::vector<double> ln_likelihood_;
    std::vector<double> determinant_;
    std::vector<Gaussian2> after_drop_;
    std::vector<double> length_density_;
    Eigen::ArrayXd bell_b0_, bell_b1_, bell_ln_share_, bell_misfit_;  // of a coil with many bells
    std::vector<double> probabilities_;
    std::vector<std::size_t> contenders_;
};

inline constexpr double floating_misjudged = 0.01;
inline constexpr double usual_length_share = 0.5;

// The density of ln(whole length) under a class. A whole length is one of the usual ones in
// half of the cases, and otherwise anything from 1 to 150 ft on a logarithmic scale (own
// assumption).
[[nodiscard]] double length_density(Length length, const std::optional<UsualLengths>& usual);

// P(y < ln ρ_w): how probable it is that a line floats in `water`. Whether it floats is judged by
// its density, with a misjudgement in a hundred, since a dense thin line can hang in the surface.
[[nodiscard]] double probability_lighter_than(const Gaussian2& line, const Water& water);

}  // namespace coilbook
