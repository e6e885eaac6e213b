// What the straight readings say in logarithms, and where their errors come from.
//
// Six figures may be read off instruments; four straight lines in θ = (ln weight per foot, ln
// density) follow from them:
//
//     sample     ln(w / ℓ)        = x                  w: the piece in air, ℓ: its length
//     whole      ln(W / L)        = x                  W, L: the whole coil
//     diameter   ln d             = ½ (x − y) + const
//     displaced  ln((w − s) / ℓ)  = x − y + ln ρ_w     s: the piece hanging in water
//
// Each error moves one or several of the six by one and the same amount: rounding moves a single
// reading, a scale's calibration moves all weighings on it (and so cancels in w − s). The
// covariance of the four is G M Gᵀ, with M that of the six and G the derivatives (GUM, JCGM
// 100:2008, 5.2.2). An error has a normal part and a rectangular part (4.3.7); coarse.h says when a
// rectangle may not pass for a bell.
#pragma once

#include <Eigen/Core>
#include <array>
#include <boost/container/static_vector.hpp>
#include <cmath>
#include <cstdint>
#include <optional>

#include "catalog/readings.h"
#include "line/water.h"
#include "metrology/instrument.h"

namespace coilbook {

// How far a short piece, or one diameter, of a tapered coil may differ from the coil's mean, in ln
// of weight per foot and of diameter. A piece of length ℓ of a coil of length L differs by 1 − ℓ/L
// of it, but by a tenth at least; without the whole length, L is that of a usual tip. Diameters in
// n places average out as 1/√n. The project's own assumptions; no published source.
inline constexpr double tapered_sample_sd = 0.15;
inline constexpr double tapered_diameter_sd = 0.08;
inline constexpr Length usual_tip = 12.0 * foot;

enum class Read { in_air, in_water, whole_weight, sample_length, whole_length, diameter };
inline constexpr std::size_t read_count = 6;
using ReadVector = Eigen::Matrix<double, read_count, 1>;  // SI

struct ErrorSource {
    double bell;       // standard deviation of its normal part
    double rectangle;  // half-width of its rectangular part
    ReadVector moves;  // 1 for each reading that it moves, else 0

    [[nodiscard]] double rectangle_sd() const;
};
using ErrorSources = boost::container::static_vector<ErrorSource, 12>;

enum class Row { sample, whole, diameter, displaced };
inline constexpr std::size_t row_count = 4;
using RowVector4 = Eigen::Vector4d;

struct StraightReadings {
    ReadVector read = ReadVector::Zero();
    std::array<bool, row_count> has{};  // which rows the readings make up
    ErrorSources sources;
    // How far a piece of a tapered coil differs from the whole, in ln; moves sample and displaced.
    double taper_sd = 0.0;
    double ln_water_density = 0.0;  // of the bucket, 1 g/cm3

    [[nodiscard]] bool has_row(Row row) const { return has[static_cast<std::size_t>(row)]; }
};

// The readings, less their instruments' offsets, with all their errors. A stated uncertainty is the
// person's word for all of a reading's error. Diameters that differ among themselves by more than
// instrument and taper would in all but one of a thousand cases tell their own scatter instead
// (type A, GUM 4.2); alike, they share one rounding.
[[nodiscard]] StraightReadings straight_readings(const CoilReadings& readings, const Scale& scale,
                                                 const Tape& tape, const Micrometer& micrometer,
                                                 const Water& bucket);

// Left sides of the four lines less their constants, so that row · θ equals them; nothing where a
// weight, length or displaced weight is not above zero. Rows that are not there are 0.
[[nodiscard]] std::optional<RowVector4> row_values(const StraightReadings& straight,
                                                   const ReadVector& read);

// The coefficients of θ in each row.
[[nodiscard]] Eigen::Matrix<double, 4, 2> row_coefficients();

// Derivatives of row_values at the readings. A displaced weight smaller than its own uncertainty
// counts as that large, or the derivative would have no end.
[[nodiscard]] Eigen::Matrix<double, 4, 6> row_derivatives(const StraightReadings& straight);

// Covariance of the rows, with the rectangles of `coarse` sources (by index) left out; an exact
// reading is taken as good to a part in ten thousand.
[[nodiscard]] Eigen::Matrix4d row_covariance(const StraightReadings& straight,
                                             const Eigen::Matrix<double, 4, 6>& derivatives,
                                             std::uint32_t coarse_sources);

// A reading less the offset that its instrument is known to have. One with a stated uncertainty is
// the person's word, and stays as it is.
template <class Q>
[[nodiscard]] Q less_offset(const Stated<Q>& stated, const Instrument<Q>& instrument) {
    return stated.uncertainty ? stated.value : stated.value - instrument.offset;
}

// Square of the relative standard uncertainty of one reading of `value` by that instrument, all its
// errors together.
template <class Q>
[[nodiscard]] double relative_variance(Q value, const Instrument<Q>& instrument) {
    return std::pow(own_uncertainty(instrument) / value, 2) +
           std::pow(shared_uncertainty(instrument) / value, 2);
}
// The same of a reading that was taken.
template <class Q>
[[nodiscard]] double relative_variance(const Stated<Q>& stated, const Instrument<Q>& instrument) {
    if (stated.uncertainty) return std::pow(*stated.uncertainty / stated.value, 2);
    return relative_variance<Q>(less_offset<Q>(stated, instrument), instrument);
}

}  // namespace coilbook
