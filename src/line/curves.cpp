#include "line/curves.h"

#include <cassert>
#include <cmath>

namespace coilbook {
namespace {

LinearDensity weight_at(const CurveSpan& span, int point) {
    assert(span.points >= 2 && span.lightest > LinearDensity{} && span.lightest < span.heaviest);
    const double share = static_cast<double>(point) / (span.points - 1);
    return span.lightest * std::pow(span.heaviest / span.lightest, share);
}

}  // namespace

std::vector<LineBody> lines_of_density(Density density, const CurveSpan& span) {
    std::vector<LineBody> lines;
    for (int point = 0; point < span.points; ++point) {
        lines.push_back(line_of(weight_at(span, point), density));
    }
    return lines;
}

std::vector<LineBody> lines_sinking_at(Speed rate, const Water& water, const CurveSpan& span) {
    std::vector<LineBody> lines;
    for (int point = 0; point < span.points; ++point) {
        const LinearDensity weight = weight_at(span, point);
        const auto dense = density_that_sinks_at(rate, weight, water);
        if (dense) lines.push_back(line_of(weight, *dense));
    }
    return lines;
}

}  // namespace coilbook
