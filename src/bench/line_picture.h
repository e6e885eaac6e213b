// How lines and their classes are drawn on a map of weight per foot against diameter: the same on
// every page.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "bench/widgets/plot_view.h"
#include "catalog/reference_class.h"
#include "identify/line_map.h"
#include "quantity/unit_set.h"

namespace coilbook::bench {

// How a family is drawn: its series, its mark and its line, and what a legend calls it.
struct FamilySign {
    std::size_t series;
    Mark mark;
    Stroke stroke;
    std::string_view word;
};
[[nodiscard]] inline FamilySign sign_of(const ReferenceClass& reference) {
    if (!reference.family) return {3, Mark::cross, Stroke::dash_dotted, "other"};
    switch (*reference.family) {
        case Family::level_line:
            return {0, Mark::disc, Stroke::solid, "level line"};
        case Family::matched_tip:
            return {1, Mark::square, Stroke::dashed, "tip"};
        case Family::sinking_leader:
            return {2, Mark::triangle, Stroke::dotted, "leader"};
        case Family::unlisted:
            break;
    }
    return {4, Mark::ring, Stroke::dash_dotted, "other"};
}

// Where a line stands on the axes, in the units of the set.
[[nodiscard]] inline double across(Length diameter, const Units& units) {
    return diameter.in(units.diameter.size);
}
[[nodiscard]] inline double up(LinearDensity weight, const Units& units) {
    return weight.in(units.weight_per_length.size);
}
// Words on them: "Weight per foot, gr/ft", and the unit alone where that is too long.
inline void name_axes(PlotView& view, const Units& units) {
    view.x_label = fmt::format("Diameter, {}", units.diameter.name);
    view.y_unit = units.weight_per_length.name;
    view.y_label = fmt::format("{}, {}", units.weight_per_length_name, view.y_unit);
}

// An ellipse out to two standard deviations, in the logarithms of both axes: it holds 86 % of what
// the distribution holds.
inline constexpr double ellipse_reach = 2.0;
[[nodiscard]] inline PlotEllipse ellipse_of(const LineDistribution& line, const Units& units) {
    const Gaussian2 seen = over_diameter_and_weight(line);
    PlotEllipse ellipse;
    ellipse.x = across(std::exp(seen.mean.x()) * millimetre, units);
    ellipse.y = up(std::exp(seen.mean.y()) * grain_per_foot, units);
    ellipse.sd_ln_x = std::sqrt(seen.covariance(0, 0));
    ellipse.sd_ln_y = std::sqrt(seen.covariance(1, 1));
    ellipse.correlation = seen.covariance(0, 1) / (ellipse.sd_ln_x * ellipse.sd_ln_y);
    ellipse.reach = ellipse_reach;
    return ellipse;
}

// The same in the sign of a class.
[[nodiscard]] inline PlotEllipse ellipse_of(const LineDistribution& line, const FamilySign& sign,
                                            const Units& units) {
    PlotEllipse ellipse = ellipse_of(line, units);
    ellipse.series = sign.series;
    ellipse.mark = sign.mark;
    ellipse.stroke = sign.stroke;
    return ellipse;
}

}  // namespace coilbook::bench
