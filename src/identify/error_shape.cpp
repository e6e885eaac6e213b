#include "identify/error_shape.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "identify/evidence.h"
#include "quantity/units.h"

namespace coilbook {
namespace {

// A rectangle with less of the variance changes a 50 % interval's coverage by less than 0.3 points.
constexpr double least_share = 1.0 / 3.0;
// A reading with less of the say than this leaves its shape unseen.
constexpr double least_say = 0.1;

double square(double number) {
    return number * number;
}

// The widest of some rectangles by their relative half widths; the others join the normal rest.
std::optional<ErrorShape> shape_of(double reading, std::span<const double> half_widths,
                                   double normal_variance) {
    const double widest = std::ranges::max(half_widths);
    double rest = normal_variance;
    for (const double each : half_widths) rest += square(each) / 3.0;
    const double variance = rest;
    rest -= square(widest) / 3.0;
    if (!(square(widest) / 3.0 > least_share * variance)) return std::nullopt;
    // A bare rectangle would need endless parts; a hundredth of its width rounds its corners.
    return ErrorShape{reading, widest, std::sqrt(std::max(rest, square(0.01 * widest)))};
}

// Of one reading: calibration and rounding as rectangles, the rest as a variance; all relative.
template <class Q>
struct Relative {
    Relative(const Instrument<Q>& instrument, Q value)
        : limit(instrument.limit_of_error / value),
          half_step(0.5 * instrument.resolution / value),
          variance(square(instrument.repeatability / value)),
          shared_variance(square(instrument.offset_uncertainty / value)) {}
    double limit, half_step, variance, shared_variance;
};

std::optional<ErrorShape> weight_shape(const CoilReadings& readings, const Scale& scale,
                                       const Tape& tape) {
    const auto sample = weighed_sample(readings);
    const auto whole = weighed_whole(readings);
    if (sample.has_value() == whole.has_value()) return std::nullopt;
    // How far a piece of a tapered coil differs from the whole is normal, and outweighs the scale.
    if (sample && readings.taper == Taper::tapered) return std::nullopt;
    const auto& piece = sample ? *sample : *whole;
    if (piece.weight.uncertainty || piece.length.uncertainty) return std::nullopt;
    const Mass weight = piece.weight.value - scale.offset;
    const Length length = piece.length.value - tape.offset;
    if (weight <= Mass{} || length <= Length{}) return std::nullopt;
    const Relative<Mass> w(scale, weight);
    const Relative<Length> l(tape, length);
    const double variance = w.variance + w.shared_variance + l.variance + l.shared_variance;
    const std::array half_widths{w.limit, w.half_step, l.limit, l.half_step};
    return shape_of(std::log((weight / length).in(grain_per_foot)), half_widths, variance);
}

std::optional<ErrorShape> diameter_shape(const CoilReadings& readings,
                                         const Micrometer& micrometer) {
    if (readings.diameters.empty()) return std::nullopt;
    for (const auto& each : readings.diameters) {
        if (each.uncertainty) return std::nullopt;
    }
    const Length mean = mean_diameter(readings).mean - micrometer.offset;
    if (mean <= Length{}) return std::nullopt;
    const Relative<Length> d(micrometer, mean);
    const double n = static_cast<double>(readings.diameters.size());
    double variance = d.variance / n + d.shared_variance + square(soft_coating_uncertainty / mean);
    if (readings.taper == Taper::tapered) variance += square(tapered_diameter_sd) / n;
    // Rounding is new each time, so n readings share one rectangle only: the limit of error.
    std::array half_widths{d.limit, d.half_step};
    if (n > 1.0) {
        variance += square(d.half_step) / 3.0 / n;
        half_widths[1] = 0.0;
    }
    return shape_of(std::log(mean.in(millimetre)), half_widths, variance);
}

}  // namespace

ErrorShapes error_shapes(const CoilReadings& readings, const Instruments& instruments) {
    ErrorShapes shapes;
    const auto scale = scale_of(instruments, readings.scale);
    const auto tape = tape_of(instruments, readings.tape);
    const auto micrometer = micrometer_of(instruments, readings.micrometer);
    if (scale && tape) shapes.weight_per_length = weight_shape(readings, *scale, *tape);
    if (micrometer) shapes.diameter = diameter_shape(readings, *micrometer);
    return shapes;
}

// With the rest of the evidence N(m, 1/p) and the reading's density the mean of N(reading + e, s²)
// over e within the rectangle, each e gives one normal part: its weight is the density of
// N(m, 1/p + s²) at reading + e, its mean the weighed one, its precision p + 1/s².
void add_shaped(std::vector<NormalPart>& parts, const NormalPart& part,
                const std::optional<ErrorShape>& shape) {
    if (!shape) return parts.push_back(part);
    const double reading_precision =
        1.0 / (square(shape->rectangle) / 3.0 + square(shape->normal_sd));
    const double precision = 1.0 / square(part.sd);
    if (reading_precision < least_say * precision) return parts.push_back(part);
    const double rest = std::max(precision - reading_precision, 1e-9 * precision);
    const double middle = (part.mean * precision - shape->reading * reading_precision) / rest;

    constexpr double most_parts = 24.0;
    const double count =
        std::clamp(std::ceil(2.0 * shape->rectangle / (1.2 * shape->normal_sd)), 2.0, most_parts);
    const double spacing = 2.0 * shape->rectangle / count;
    const double sd = std::max(shape->normal_sd, spacing / 1.2);
    const double narrow = 1.0 / square(sd);
    const auto first = parts.size();
    double highest = -HUGE_VAL;
    for (int j = 0; j < static_cast<int>(count); ++j) {
        const double at = shape->reading - shape->rectangle + (j + 0.5) * spacing;
        const double ln_weight = -0.5 * square(at - middle) / (1.0 / rest + square(sd));
        parts.push_back({ln_weight, (at * narrow + middle * rest) / (narrow + rest), 0.0});
        highest = std::max(highest, ln_weight);
    }
    const std::span<NormalPart> made(parts.begin() + static_cast<std::ptrdiff_t>(first),
                                     parts.end());
    double total = 0.0;
    double mean = 0.0;
    for (auto& each : made) {
        each.weight = std::exp(each.weight - highest);
        total += each.weight;
        mean += each.weight * each.mean;
    }
    mean /= total;
    double variance = 1.0 / (narrow + rest);
    for (const auto& each : made) variance += each.weight / total * square(each.mean - mean);
    // The same shape with the mean and sd that the engine found.
    const double stretch = part.sd / std::sqrt(variance);
    for (auto& each : made) {
        each = {part.weight * each.weight / total, part.mean + stretch * (each.mean - mean),
                stretch / std::sqrt(narrow + rest)};
    }
}

}  // namespace coilbook
