#include "bench/widgets/plot_hit.h"

#include <cmath>

#include "bench/widgets/plot_picture.h"

namespace coilbook::bench {
namespace {

float away(Place one, Place other) {
    return std::hypot(one.x - other.x, one.y - other.y);
}

// How far `from` is from the straight line between the two.
float away_from_line(Place from, Place begin, Place end) {
    const float x = end.x - begin.x, y = end.y - begin.y;
    const float squared = x * x + y * y;
    const float share =
        squared > 0 ? ((from.x - begin.x) * x + (from.y - begin.y) * y) / squared : 0.0F;
    const float inside = std::clamp(share, 0.0F, 1.0F);
    return away(from, {begin.x + inside * x, begin.y + inside * y});
}

std::optional<PlotHit> nearest_point(const PlotView& view, const PlotFrame& frame, Place mouse,
                                     float reach) {
    const PlotPoint* found = nullptr;
    for (const PlotPoint& point : view.points) {
        if (point.readout.empty()) continue;
        const float far = away(frame.at(point.x, point.y), mouse);
        if (far >= reach) continue;
        reach = far;
        found = &point;
    }
    if (found == nullptr) return std::nullopt;
    return PlotHit{found->readout, {}, {frame.at(found->x, found->y)}};
}

std::optional<PlotHit> nearest_mark(const PlotView& view, const PlotFrame& frame, Place mouse,
                                    float reach) {
    const PlotEllipse* found = nullptr;
    for (const PlotEllipse& ellipse : view.ellipses) {
        if (ellipse.readout.empty() || ellipse.is_faint() || ellipse.is_own()) continue;
        const float far = away(frame.at(ellipse.x, ellipse.y), mouse);
        if (far >= reach) continue;
        reach = far;
        found = &ellipse;
    }
    if (found == nullptr) return std::nullopt;
    return PlotHit{found->readout, found->key, {}};
}

std::optional<PlotHit> closest_round(const PlotView& view, const PlotFrame& frame, Place mouse) {
    const PlotXy value = frame.value_at(mouse);
    const PlotEllipse* found = nullptr;
    double least = 1.0;
    for (const bool faint_ones : {false, true}) {
        for (const PlotEllipse& ellipse : view.ellipses) {
            if (ellipse.readout.empty() || ellipse.is_faint() != faint_ones) continue;
            const double far = distance(ellipse, value) / ellipse.reach;
            if (far > least) continue;
            least = far;
            found = &ellipse;
        }
        if (found != nullptr) return PlotHit{found->readout, found->key, {}};
    }
    return std::nullopt;
}

std::optional<PlotHit> nearest_curve(const PlotView& view, const PlotFrame& frame, Place mouse,
                                     float reach) {
    const PlotCurve* found = nullptr;
    for (const PlotCurve& curve : view.curves) {
        if (curve.readout.empty() || !is_shown(curve, frame)) continue;
        for (const auto& run : seen_of(curve, frame)) {
            for (std::size_t at = 1; at < run.size(); ++at) {
                const float far = away_from_line(mouse, run[at - 1], run[at]);
                if (far >= reach) continue;
                reach = far;
                found = &curve;
            }
        }
    }
    if (found == nullptr) return std::nullopt;
    return PlotHit{found->readout, {}, {}};
}

// Where the courses are at the value of x that is nearest to the mouse.
std::optional<PlotHit> nearest_across(const PlotView& view, const PlotFrame& frame, Place mouse) {
    PlotHit found;
    found.is_upright = true;
    const double x = frame.value_at(mouse).x;
    for (const PlotCourse& course : view.courses) {
        const auto best = std::ranges::min_element(
            course.points, {}, [&](const auto& each) { return std::abs(each.x - x); });
        if (best == course.points.end() || best->readout.empty()) continue;
        if (found.readout.empty()) found.readout = best->readout;
        found.at.push_back(frame.at(best->x, best->y));
    }
    if (found.at.empty()) return std::nullopt;
    return found;
}

}  // namespace

std::optional<PlotHit> hit(const PlotView& view, const PlotFrame& frame, Place mouse,
                           const PlotLook& look) {
    if (!frame.inside.holds(mouse)) return std::nullopt;
    if (auto found = nearest_point(view, frame, mouse, look.px(8))) return found;
    if (auto found = nearest_mark(view, frame, mouse, look.px(9))) return found;
    if (auto found = nearest_curve(view, frame, mouse, look.px(3))) return found;
    if (auto found = closest_round(view, frame, mouse)) return found;
    if (auto found = nearest_curve(view, frame, mouse, look.px(6))) return found;
    return nearest_across(view, frame, mouse);
}

}  // namespace coilbook::bench
