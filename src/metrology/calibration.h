// Checking an instrument against standards: what its readings are off by, and how surely.
//
// A check weight, a gauge pin or a block has a stated value with a standard uncertainty. Read
// repeatedly, it tells two things: how far single readings scatter (repeatability) and how far
// they are off on average (offset). The average of many readings of one standard is known no
// better than the standard itself and the rounding of the display; both are shared by all of them.
// Several standards also tell whether one offset describes the instrument: if not, its scale is
// stretched, and a factor is needed.
// Follows the GUM (JCGM 100:2008): mean and standard deviation of repeated readings 4.2, rounding
// F.2.2.1, effective degrees of freedom G.4.1 (Welch and Satterthwaite). Assumes that different
// standards are wrong independently. Leaves out drift and temperature.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "base/instant.h"
#include "metrology/instrument.h"
#include "metrology/measured.h"

namespace coilbook {

// One standard and what the instrument showed for it, uncorrected.
template <class Q>
struct StandardCheck {
    Q stated{};
    Q stated_uncertainty{};   // k = 1, not negative
    std::vector<Q> readings;  // at least one
};

// By chance a good instrument fails the test of 'one offset for all' once in so many checks.
inline constexpr double one_offset_chance = 0.05;

// A stretched scale: reading = standard + offset_at_zero + stretch · standard.
template <class Q>
struct Stretch {
    double part = 0.0;  // 0.002: reads 0.2 % too much
    double part_uncertainty = 0.0;
    Q offset_at_zero{};
    Q offset_at_zero_uncertainty{};
};

// How far off the readings of one standard are on average, and how surely (k = 1): by their
// scatter, the rounding of the display and the standard itself.
template <class Q>
struct DeviationAt {
    Q stated{};
    Q deviation{};
    Q uncertainty{};
};

template <class Q>
struct Calibration {
    // The instrument reads too high by this: weighted mean over the standards.
    Q offset{};
    Q offset_uncertainty{};           // k = 1; widened by Birge's ratio where one does not fit all
    double degrees_of_freedom = 0.0;  // effective, of the offset's uncertainty; may be infinite
    Q offset_95{};                    // half width of the 95 % interval, by Student's t
    // Standard deviation of repeated readings, pooled over the standards, and its own uncertainty;
    // nothing where no standard was read twice.
    std::optional<Q> repeatability;
    Q repeatability_uncertainty{};
    int readings = 0;
    int standards = 0;
    // How badly one offset fits: Σ (deviation/uncertainty)², and how probable more is by chance; 1
    // with one standard.
    double chi_square = 0.0;
    double chance = 1.0;
    // The line through the deviations, where there are two standards of different size or more.
    std::optional<Stretch<Q>> stretch;
    // One for each standard, in the order of the check: what offset and stretch were drawn through.
    std::vector<DeviationAt<Q>> deviations;

    [[nodiscard]] bool one_offset_fits() const { return chance >= one_offset_chance; }
};

// What the readings of standards tell. `instrument` gives the resolution, and the repeatability
// where no standard was read twice. REQUIRES: at least one standard, each with a reading; of any
// two numbers that weigh (resolution, repeatability, standards' uncertainties, scatter) one is
// above zero.
template <class Q>
[[nodiscard]] Calibration<Q> calibrate(const Instrument<Q>& instrument,
                                       std::span<const StandardCheck<Q>> checks);

// The instrument with what the check found: offset, its uncertainty and, from three readings beyond
// the averages on, its repeatability. The maker's limit of error is dropped where two standards or
// more agree on one offset, since then it has been measured; one standard says nothing of the rest
// of the range, so the limit stays.
template <class Kind, class Q>
[[nodiscard]] Kind checked(Kind instrument, const Calibration<Q>& found);

// One part of a combined uncertainty, and how many degrees of freedom stand behind it.
struct UncertaintyPart {
    double uncertainty;         // all in one unit
    double degrees_of_freedom;  // infinite for what is simply known
};
// Effective degrees of freedom, ν = u⁴ / Σ (ui⁴ / νi). Source: GUM G.4.1, equation G.2b.
[[nodiscard]] double effective_degrees_of_freedom(std::span<const UncertaintyPart> parts);

// Whether a check of then no longer counts now.
[[nodiscard]] bool has_run_out(Instant checked, Instant now, std::chrono::days interval);
// A year, unless the catalogue says otherwise (common practice, no published source).
inline constexpr std::chrono::days usual_check_interval{365};

// How far the anvil squeezes soft coatings, found on coils whose true diameter is known otherwise
// (weight per foot and density from a weighing under water).
struct CoatingCheck {
    Measured<Length> truly;  // from weight and density
    Measured<Length> shown;  // mean reading; its uncertainty without what all coils share
};
struct CoatingOffset {
    Length offset{};  // shown − true, mostly negative: the instrument's offset on coatings
    Length offset_uncertainty{};  // of the mean
    Length spread{};              // how coils differ: standard deviation of one coil's own offset
    int coils = 0;
};
// Weighted mean with a spread between coils, τ², such that the chi-square is what is to be expected
// (Paule and Mandel, J. Res. NBS 87 (1982) 377, from memory). Few coils say little about τ, so the
// default soft_coating_uncertainty counts like `coils_behind_default_spread` further ones.
// REQUIRES: two coils at least, uncertainties above zero.
[[nodiscard]] CoatingOffset coating_offset(std::span<const CoatingCheck> coils);
inline constexpr double coils_behind_default_spread = 2.0;

// A micrometer for coatings: this offset and spread in place of its limit of error and of
// soft_coating_uncertainty.
[[nodiscard]] Micrometer on_coatings(Micrometer micrometer, const CoatingOffset& found);

}  // namespace coilbook
