#include "identify/error_shape.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "identify/error_budget.h"
#include "identify/gaussian2.h"

namespace coilbook {
namespace {

// Of a normal distribution it is 0, of a rectangle −1.2. Nearer to 0 than this, a 50 % interval's
// coverage is off by less than 0.6 points.
constexpr double nearly_normal = -0.13;
// A reading with less of the say than this leaves its shape unseen.
constexpr double least_say = 0.1;

double square(double number) {
    return number * number;
}

using Slopes = Eigen::Matrix<double, 1, read_count>;  // of a logarithm in the readings

// The shape of the error of a logarithm, as its sources make it up to first order.
// `normal_variance` is what they do not account for.
ErrorShape shape_of(double value, const Slopes& slopes, const ErrorSources& sources,
                    double normal_variance) {
    double wide = 0.0;  // these two are signed: a tape that reads long makes the line light
    double narrow = 0.0;
    double variance = normal_variance;
    for (const auto& source : sources) {
        const double effect = slopes.dot(source.moves);
        variance += square(effect * source.bell) + square(effect * source.rectangle_sd());
        double half_width = effect * source.rectangle;
        if (std::abs(half_width) > std::abs(wide)) std::swap(half_width, wide);
        if (std::abs(half_width) > std::abs(narrow)) narrow = half_width;
    }
    const double rest = variance - (square(wide) + square(narrow)) / 3.0;
    // In the logarithm a rectangle of ±w reaches from ln(1 − w) to ln(1 + w).
    const double w = std::min(std::abs(wide), 0.9);
    const double shift = (wide < 0.0 ? -0.5 : 0.5) * std::log1p(-w * w);
    // A bare rectangle would need endless parts; a hundredth of its width rounds its corners.
    return {value + shift, std::atanh(w), std::min(std::abs(narrow), w),
            std::sqrt(std::max(rest, square(0.01 * w)))};
}

std::optional<ErrorShape> unless_nearly_normal(const ErrorShape& shape) {
    const double fourth = -1.2 * (square(square(shape.wide)) + square(square(shape.narrow))) / 9.0;
    if (!(fourth < nearly_normal * square(shape.variance()))) return std::nullopt;
    return shape;
}

}  // namespace

double ErrorShape::variance() const {
    return (square(wide) + square(narrow)) / 3.0 + square(normal_sd);
}

ErrorShapes error_shapes(const CoilReadings& readings, const Instruments& instruments) {
    ErrorShapes shapes;
    const auto scale = scale_of(instruments, readings.scale);
    const auto tape = tape_of(instruments, readings.tape);
    const auto micrometer = micrometer_of(instruments, readings.micrometer);
    const auto bucket = water_at(readings.water_temperature ? readings.water_temperature->value
                                                            : Temperature::from_celsius(10.0));
    if (!scale || !tape || !micrometer || !bucket) return shapes;
    const auto straight = straight_readings(readings, *scale, *tape, *micrometer, *bucket);
    const auto values = row_values(straight, straight.read);
    if (!values) return shapes;
    const auto derivatives = row_derivatives(straight);
    const auto shape_of_row = [&](Row row, double constant, double normal_sd) {
        const auto at = static_cast<Eigen::Index>(row);
        return shape_of((*values)(at) + constant, derivatives.row(at), straight.sources,
                        square(normal_sd));
    };
    std::optional<ErrorShape> weight;
    if (straight.has_row(Row::sample)) weight = shape_of_row(Row::sample, 0.0, straight.taper_sd);
    if (straight.has_row(Row::whole)) {
        const auto whole = shape_of_row(Row::whole, 0.0, 0.0);
        if (!weight || whole.variance() < weight->variance()) weight = whole;
    }
    if (weight) shapes.weight_per_length = unless_nearly_normal(*weight);
    if (straight.has_row(Row::diameter)) {
        shapes.diameter =
            unless_nearly_normal(shape_of_row(Row::diameter, ln_diameter_constant(), 0.0));
    }
    if (straight.has_row(Row::displaced)) {
        // y = x less ln of the displaced weight over length: the piece's taper falls out.
        const auto sample = static_cast<Eigen::Index>(Row::sample);
        const auto displaced = static_cast<Eigen::Index>(Row::displaced);
        shapes.density = unless_nearly_normal(
            shape_of((*values)(sample) - (*values)(displaced),
                     derivatives.row(sample) - derivatives.row(displaced), straight.sources, 0.0));
    }
    return shapes;
}

// With the rest of the evidence N(m, 1/p) and the reading's density the mean of N(reading + e, s²)
// over e as the rectangles have it, each e gives one normal part: its weight is the density of
// N(m, 1/p + s²) at reading + e, its mean the weighed one, its precision p + 1/s².
void add_shaped(std::vector<NormalPart>& parts, const NormalPart& part,
                const std::optional<ErrorShape>& shape) {
    if (!shape) return parts.push_back(part);
    const double reading_precision = 1.0 / shape->variance();
    const double precision = 1.0 / square(part.sd);
    if (reading_precision < least_say * precision) return parts.push_back(part);
    const double rest = std::max(precision - reading_precision, 1e-9 * precision);
    const double middle = (part.mean * precision - shape->reading * reading_precision) / rest;

    // One standard deviation apart, or two where that would be too many: even then the normal parts
    // add up to a plateau with ripples of 1.4 %.
    constexpr double most_parts = 24.0;
    const double end = shape->wide + shape->narrow;
    const double count = std::clamp(std::ceil(2.0 * end / shape->normal_sd), 4.0, most_parts);
    const double spacing = 2.0 * end / count;
    const double sd = std::max(shape->normal_sd, 0.5 * spacing);
    const double narrow = 1.0 / square(sd);
    const auto first = parts.size();
    double highest = -HUGE_VAL;
    for (int j = 0; j < static_cast<int>(count); ++j) {
        const double error = -end + (j + 0.5) * spacing;
        const double at = shape->reading + error;
        // Two rectangles together are a trapezoid, flat in the middle.
        const double height =
            std::min(1.0, (end - std::abs(error)) / (2.0 * shape->narrow + 1e-300));
        const double ln_weight =
            std::log(height) - 0.5 * square(at - middle) / (1.0 / rest + square(sd));
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
