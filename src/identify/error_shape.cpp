#include "identify/error_shape.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "identify/error_budget.h"
#include "identify/gaussian2.h"

namespace coilbook {
namespace {

// A rectangle with less of the variance changes a 50 % interval's coverage by less than 0.3 points.
constexpr double least_share = 1.0 / 3.0;
// A reading with less of the say than this leaves its shape unseen.
constexpr double least_say = 0.1;

double square(double number) {
    return number * number;
}

// The shape of one row's error, as its sources make it up to first order.
std::optional<ErrorShape> shape_of_row(Row row, const StraightReadings& straight,
                                       const RowVector4& values) {
    const auto at = static_cast<Eigen::Index>(row);
    const auto derivatives = row_derivatives(straight);
    double variance =
        row == Row::diameter ? square(straight.taper_diameter_sd) : square(straight.taper_sd);
    double widest = 0.0;      // signed: a tape that reads long makes the line light
    double rectangles = 0.0;  // their variances
    for (const auto& source : straight.sources) {
        const double effect = derivatives.row(at).dot(source.moves);
        variance += square(effect * source.bell);
        rectangles += square(effect * source.rectangle_sd());
        if (std::abs(effect) * source.rectangle > std::abs(widest)) {
            widest = effect * source.rectangle;
        }
    }
    const double rest = variance + rectangles - square(widest) / 3.0;
    if (!(square(widest) / 3.0 > least_share * (variance + rectangles))) return std::nullopt;
    // In the logarithm a rectangle of ±w reaches from ln(1 − w) to ln(1 + w).
    const double w = std::min(std::abs(widest), 0.9);
    const double shift = (widest < 0.0 ? -0.5 : 0.5) * std::log1p(-w * w);
    // A bare rectangle would need endless parts; a hundredth of its width rounds its corners.
    const double constant = row == Row::diameter ? ln_diameter_constant() : 0.0;
    return ErrorShape{values(at) + constant + shift, std::atanh(w),
                      std::sqrt(std::max(rest, square(0.01 * w)))};
}

}  // namespace

ErrorShapes error_shapes(const CoilReadings& readings, const Instruments& instruments) {
    ErrorShapes shapes;
    const auto scale = scale_of(instruments, readings.scale);
    const auto tape = tape_of(instruments, readings.tape);
    const auto micrometer = micrometer_of(instruments, readings.micrometer);
    if (!scale || !tape || !micrometer) return shapes;
    // The bucket's water moves the weight under water alone, which is not asked for.
    const auto straight =
        straight_readings(readings, *scale, *tape, *micrometer, fresh_water_at_10_C());
    const auto values = row_values(straight, straight.read);
    if (!values) return shapes;
    const bool has_sample = straight.has_row(Row::sample);
    const bool has_whole = straight.has_row(Row::whole);
    if (has_sample != has_whole) {
        shapes.weight_per_length =
            shape_of_row(has_sample ? Row::sample : Row::whole, straight, *values);
    }
    if (straight.has_row(Row::diameter)) {
        shapes.diameter = shape_of_row(Row::diameter, straight, *values);
    }
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

    // One standard deviation apart, or two where that would be too many: even then the normal parts
    // add up to a plateau with ripples of 1.4 %.
    constexpr double most_parts = 24.0;
    const double count =
        std::clamp(std::ceil(2.0 * shape->rectangle / shape->normal_sd), 4.0, most_parts);
    const double spacing = 2.0 * shape->rectangle / count;
    const double sd = std::max(shape->normal_sd, 0.5 * spacing);
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
