// What the readings of one coil say about its line: a likelihood over (ln weight per foot, ln
// density).
//
// Weight over length, and the diameter, are straight in the two logarithms; with errors of a few
// per cent their likelihood is a normal one, known in closed form. A weighing under water and a
// timed drop bend, so they are kept as functions and integrated (posterior.h). Errors that readings
// share stay shared: two weighings on one scale, two lengths by one tape, and above all the same
// piece weighed in air and under water.
//
//   sample          ln(W/ℓ)    = x                    + own and shared errors of scale and tape
//   whole coil      ln(W/ℓ)    = x                    + the same
//   diameter        ln d       = ½ (x − y) + constant + micrometer, soft coating
//   under water     W_sub / W  = 1 − ρ_w / ρ          + errors, coupled to the sample's
//   timed drop      ln(D/t)    = ln v(x, y)           + tape, watch, drag law
//
// Tint, taper, floating and the whole length speak about classes rather than about x and y.
// Assumes errors small beside the readings (a few per cent; the first-order GUM way). A tapered
// coil's sample stands for the whole only roughly: see tapered_sample_sd.
#pragma once

#include <array>
#include <optional>

#include "base/result.h"
#include "catalog/readings.h"
#include "identify/gaussian2.h"
#include "metrology/instrument.h"

namespace coilbook {

// How far a short piece, or one diameter, of a tapered coil may differ from the coil's mean, in ln
// of weight per foot and of diameter. A piece of length ℓ of a coil of length L differs by 1 − ℓ/L
// of it, but by a tenth at least; without the whole length, L is that of a usual tip. Diameters in
// n places average out as 1/√n. The project's own assumptions; no published source.
inline constexpr double tapered_sample_sd = 0.15;
inline constexpr double tapered_diameter_sd = 0.08;
inline constexpr Length usual_tip = 12.0 * foot;

// Readings outside these together are no line's, and are refused rather than weighed up.
inline constexpr LinearDensity lightest_conceivable_line = 0.001 * grain_per_foot;
inline constexpr LinearDensity heaviest_conceivable_line = 10'000.0 * grain_per_foot;
inline constexpr Speed slowest_conceivable_drop = 0.005 * inch_per_second;
inline constexpr Speed fastest_conceivable_drop = 200.0 * inch_per_second;
// How sure the temperature is where none was read, and how ln v depends on it (0.28 % a kelvin for
// a 2 g/cm3 line of 1 mm between 5 and 20 °C, from the tables that sink_rate_test.cpp uses).
inline constexpr TemperatureDifference unread_temperature_uncertainty =
    TemperatureDifference::from_kelvin(5.0);
inline constexpr double ln_sink_rate_per_kelvin = 0.003;

// A θ = b + unit normal noise, at most three rows; ln_norm is ln of the density's factor.
struct StraightEvidence {
    int rows = 0;
    Eigen::Matrix<double, 3, 2> a = Eigen::Matrix<double, 3, 2>::Zero();
    Eigen::Vector3d b = Eigen::Vector3d::Zero();
    double ln_norm = 0.0;
};

// The weight under water over the weight in air. `coupling` · (θ, 1) is what the sample's own
// residual says about this one's error, since both share the scale and the weight in air.
struct SubmergedEvidence {
    double ratio;
    double sd;
    Density water_density;
    Eigen::Vector3d coupling;
};

struct DropEvidence {
    double ln_rate;     // of the rate in m/s
    double reading_sd;  // tape, watch and temperature
    double drag_sd;     // of the drag law; the same for every drop of this coil
    Water water;
};

// The two readings that bend, as residuals in their own standard deviations, and their slopes.
struct BentResiduals {
    int count = 0;
    Eigen::Vector2d value = Eigen::Vector2d::Zero();
    Eigen::Matrix2d slope = Eigen::Matrix2d::Zero();
    bool possible = true;  // false where no such line sinks, although it was seen to
};

struct Evidence {
    StraightEvidence straight;
    std::optional<SubmergedEvidence> submerged;
    std::optional<DropEvidence> drop;
    std::optional<Tint> tint;
    std::optional<Taper> taper;
    std::optional<bool> floats;
    std::optional<Length> whole_length;
    Water water;  // of the bucket

    [[nodiscard]] bool bends() const { return submerged || drop; }
    // At `point`, with the drop's two errors taken together.
    [[nodiscard]] BentResiduals bent_residuals(const LinePoint& point) const;
    // ln of the factor in front of the bent readings' likelihood.
    [[nodiscard]] double bent_ln_norm() const;
};

// The evidence in a coil's readings. A reading without its partner (a sample's weight without its
// length, a drop without its time) says nothing yet. A Problem for an unknown instrument, for a
// reading that is not above its instrument's offset, for one whose uncertainty, by its instrument
// or as stated, is more than half of it, and for readings that together are no line's.
[[nodiscard]] Result<Evidence> evidence_of(const CoilReadings& readings,
                                           const Instruments& instruments);

// The piece or coil whose weight and length were both read: the sample first, else the whole.
struct WeighedPiece {
    Stated<Mass> weight;
    Stated<Length> length;
};
[[nodiscard]] std::optional<WeighedPiece> weighed_sample(const CoilReadings& readings);
[[nodiscard]] std::optional<WeighedPiece> weighed_whole(const CoilReadings& readings);

// Mean diameter and how far the readings spread, (largest − smallest) / mean. REQUIRES: not empty.
struct MeanDiameter {
    Length mean;
    double spread;
};
[[nodiscard]] MeanDiameter mean_diameter(const CoilReadings& readings);

}  // namespace coilbook
