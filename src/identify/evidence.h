// What the readings of one coil say about its line: a likelihood over (ln weight per foot, ln
// density).
//
// Weights over lengths, the diameter and the weight under water are straight in the two logarithms
// (error_budget.h), and their likelihood is a bell, known in closed form; where an instrument is
// coarse, a sum of bells (coarse.h). A timed drop bends, so it is kept as a function and integrated
// (posterior.h). Errors that readings share stay shared: two weighings on one scale, two lengths by
// one tape, and above all the same piece weighed in air and under water.
// Tint, taper, floating and the whole length speak about classes rather than about x and y.
// Assumes normal errors small beside the readings (a few per cent; the first-order GUM way). A
// tapered coil's sample stands for the whole only roughly: see tapered_sample_sd.
#pragma once

#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "base/result.h"
#include "catalog/readings.h"
#include "identify/gaussian2.h"
#include "metrology/instrument.h"
#include "quantity/unit_set.h"

namespace coilbook {

// How sure the temperature is where none was read, and how ln v depends on it (0.28 % a kelvin for
// a 2 g/cm3 line of 1 mm between 5 and 20 °C, from the tables that sink_rate_test.cpp uses).
inline constexpr TemperatureDifference unread_temperature_uncertainty =
    TemperatureDifference::from_kelvin(5.0);
inline constexpr double ln_sink_rate_per_kelvin = 0.003;

// A θ = b + unit normal noise, all errors taken as bells: one row for each straight reading.
struct StraightEvidence {
    int rows = 0;
    Eigen::Matrix<double, 4, 2> a = Eigen::Matrix<double, 4, 2>::Zero();
    Eigen::Vector4d b = Eigen::Vector4d::Zero();
};

// The straight readings' likelihood as a function of θ, rectangles and all:
//
//     L(θ) = Σ_j exp(ln_share_j − ½ |R θ − b_j|²),
//
// with one bell for ordinary instruments. R is upper triangular; a zero row stands for a direction
// that the readings leave open.
struct Bell {
    Eigen::Vector2d b = Eigen::Vector2d::Zero();
    double ln_share = 0.0;
};
struct Bells {
    Eigen::Matrix2d r = Eigen::Matrix2d::Zero();
    Bell one;                // of ordinary instruments
    std::vector<Bell> many;  // instead of `one`, where an instrument is coarse

    [[nodiscard]] std::span<const Bell> all() const {
        return many.empty() ? std::span<const Bell>(&one, 1) : std::span<const Bell>(many);
    }
};

// A timed drop. The watch's error is in the time, the others go with it: they are so many per cent.
struct DropEvidence {
    double ln_rate;   // of the rate as timed, in m/s
    double time_sd;   // of the watch, in parts of the time read
    double level_sd;  // relative: tape and temperature
    double drag_sd;   // relative: the drag law; the same for every drop of this coil
    Water water;
    LnSinkRates rates{water};  // of any line in it: asked a thousand times for each coil

    // Of what was read, drag law apart, in ln of the rate.
    [[nodiscard]] double reading_sd() const { return std::hypot(time_sd, level_sd); }
};

// The drop at one θ. `value` is the residual of the time in its standard deviation there, `slope`
// its slope in θ, `ln_norm` the logarithm of the density's factor.
struct DropResidual {
    double value = 0.0;
    Eigen::RowVector2d slope = Eigen::RowVector2d::Zero();
    double ln_norm = 0.0;
    bool possible = true;  // false where no such line sinks, although it was seen to
};

struct Evidence {
    StraightEvidence straight;
    Bells bells;
    std::optional<DropEvidence> drop;
    std::optional<Tint> tint;
    std::optional<Taper> taper;
    std::optional<bool> floats;
    std::optional<Length> whole_length;
    Water water;  // of the bucket

    // At `point`, with the drop's errors taken together. REQUIRES: drop.
    [[nodiscard]] DropResidual drop_residual(const LinePoint& point) const;
};

// The evidence in a coil's readings. A reading without its partner (a sample's weight without its
// length, a drop without its time) says nothing yet. A Problem for an unknown instrument, for a
// reading that is not above its instrument's offset, for one whose uncertainty, by its instrument
// or as stated, is more than half of it, and for readings that together are no line's; it says in
// these units what would be accepted.
[[nodiscard]] Result<Evidence> evidence_of(const CoilReadings& readings,
                                           const Instruments& instruments,
                                           const Units& units = grains_and_feet);

// The same without `bells`, which cost most where an instrument is coarse: enough for facts.h.
[[nodiscard]] Result<Evidence> straight_evidence_of(const CoilReadings& readings,
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
