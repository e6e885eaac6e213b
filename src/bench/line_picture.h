// How lines and their classes are drawn on a map of weight per foot against diameter: the same on
// every page.
#pragma once

#include <cmath>
#include <string_view>

#include "bench/widgets/plot_view.h"
#include "catalog/reference_class.h"
#include "identify/line_map.h"

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

// An ellipse out to two standard deviations, in the logarithms of millimetres and grains a foot: it
// holds 86 % of what the distribution holds.
inline constexpr double ellipse_reach = 2.0;
[[nodiscard]] inline PlotEllipse ellipse_of(const LineDistribution& line) {
    const Gaussian2 seen = over_diameter_and_weight(line);
    PlotEllipse ellipse;
    ellipse.x = std::exp(seen.mean.x());
    ellipse.y = std::exp(seen.mean.y());
    ellipse.sd_ln_x = std::sqrt(seen.covariance(0, 0));
    ellipse.sd_ln_y = std::sqrt(seen.covariance(1, 1));
    ellipse.correlation = seen.covariance(0, 1) / (ellipse.sd_ln_x * ellipse.sd_ln_y);
    ellipse.reach = ellipse_reach;
    return ellipse;
}

// The same in the sign of a class.
[[nodiscard]] inline PlotEllipse ellipse_of(const LineDistribution& line, const FamilySign& sign) {
    PlotEllipse ellipse = ellipse_of(line);
    ellipse.series = sign.series;
    ellipse.mark = sign.mark;
    ellipse.stroke = sign.stroke;
    return ellipse;
}

}  // namespace coilbook::bench
