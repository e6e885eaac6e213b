// The names in a plot, each where there is room for it.
#include <cmath>
#include <numbers>

#include "bench/widgets/plot_picture.h"

namespace coilbook::bench {
namespace {

// Where a name of that size may stand round `box`, the best place first: beside it, above or
// below, at its corners, and then a line further away each time, up to `lines` of them.
std::vector<Place> places_round(const Rectangle& box, Place size, float gap, int lines) {
    const Place middle{box.middle().x - size.x / 2, box.middle().y - size.y / 2};
    const float right = box.high.x + gap, left = box.low.x - gap - size.x;
    std::vector<Place> places;
    for (int line = 0; line < lines; ++line) {
        const float away = static_cast<float>(line) * size.y;
        const float above = box.low.y - gap - size.y - away, below = box.high.y + gap + away;
        places.insert(places.end(), {{right, middle.y - away},
                                     {right, middle.y + away},
                                     {left, middle.y - away},
                                     {left, middle.y + away},
                                     {middle.x, above},
                                     {middle.x, below},
                                     {right, above},
                                     {right, below},
                                     {left, above},
                                     {left, below}});
    }
    return places;
}

class Names {
  public:
    Names(Pen& pen, const PlotLook& look, const PlotFrame& frame)
        : pen_(pen), look_(look), frame_(frame) {}

    void keep_free(const Rectangle& box) { taken_.push_back(box); }
    void name_ellipse(const PlotEllipse& ellipse);
    void name_curve(const PlotCurve& curve);

  private:
    [[nodiscard]] bool is_free(const Rectangle& spot) const {
        return frame_.inside.holds(spot) &&
               std::ranges::none_of(taken_,
                                    [&](const Rectangle& each) { return overlap(spot, each); });
    }
    [[nodiscard]] Rectangle what_is_named(const PlotEllipse& ellipse) const;
    bool name_run(const PlotCurve& curve, const std::vector<Place>& run);

    Pen& pen_;
    const PlotLook& look_;
    const PlotFrame& frame_;
    std::vector<Rectangle> taken_;
};

// A class is named beside the mark at its centre; the coil in hand beside its outline, or what is
// seen of it.
Rectangle Names::what_is_named(const PlotEllipse& ellipse) const {
    if (!ellipse.is_own()) {
        const Place at = frame_.at(ellipse.x, ellipse.y);
        const float radius = look_.px(6);
        return {{at.x - radius, at.y - radius}, {at.x + radius, at.y + radius}};
    }
    Rectangle box = box_round(outline_of(ellipse, frame_));
    const Rectangle& inside = frame_.inside;
    box.low = {std::max(box.low.x, inside.low.x), std::max(box.low.y, inside.low.y)};
    box.high = {std::min(box.high.x, inside.high.x), std::min(box.high.y, inside.high.y)};
    return box;
}

void Names::name_ellipse(const PlotEllipse& ellipse) {
    if (ellipse.name.empty()) return;
    const Rectangle box = what_is_named(ellipse);
    const Place centre = box.middle();
    if (!ellipse.is_own() && !frame_.inside.holds(frame_.at(ellipse.x, ellipse.y))) return;
    const bool is_strong = ellipse.is_own() || ellipse.emphasis == Emphasis::chosen;
    const bool is_light = ellipse.emphasis == Emphasis::light;
    const Face face = is_strong ? Face::strong : Face::small;
    const Place size = pen_.extent(face, ellipse.name);
    const float apart = look_.px(is_light ? 2 : 5);
    // Of many that are alike, only a name close by is no riddle.
    for (const Place at : places_round(box, size, look_.px(is_light ? 0 : 2), is_light ? 1 : 4)) {
        const Rectangle spot{{at.x - apart, at.y}, {at.x + size.x + apart, at.y + size.y}};
        if (!is_free(spot)) continue;
        const Place near{std::clamp(centre.x, at.x, at.x + size.x),
                         std::clamp(centre.y, at.y, at.y + size.y)};
        const bool is_apart = std::hypot(near.x - centre.x, near.y - centre.y) > 1.4F * look_.px(6);
        if (is_apart && !ellipse.is_own() && !is_light) {
            pen_.stroke(std::array<Place, 2>{centre, near}, {{look_.theme.muted}, look_.px(1)});
        }
        const float rim = look_.px(2);
        pen_.fill_box({{at.x - rim, at.y}, {at.x + size.x + rim, at.y + size.y}},
                      {look_.theme.field, 0.75F}, look_.px(3));
        pen_.write(face, at, {look_.theme.text}, ellipse.name);
        keep_free(spot);
        return;
    }
}

// A point so far along the run, and the direction there.
struct OnRun {
    Place at;
    bool is_on = false;
};
OnRun along(const std::vector<Place>& run, float way) {
    for (std::size_t at = 1; at < run.size(); ++at) {
        const Place from = run[at - 1], to = run[at];
        const float length = std::hypot(to.x - from.x, to.y - from.y);
        if (way <= length && length > 0) {
            const float share = way / length;
            return {{from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)}, true};
        }
        way -= length;
    }
    return {};
}

// `run` begins at the end where the name should stand.
bool Names::name_run(const PlotCurve& curve, const std::vector<Place>& run) {
    const Place size = pen_.extent(Face::small, curve.name);
    const float rim = look_.px(4);
    for (float begin = look_.px(8); begin < look_.px(8) + 5 * size.x; begin += size.x / 2) {
        const OnRun first = along(run, begin), last = along(run, begin + size.x + 2 * rim);
        if (!last.is_on) return false;
        const Place middle{(first.at.x + last.at.x) / 2, (first.at.y + last.at.y) / 2};
        float turn = std::atan2(first.at.y - last.at.y, last.at.x - first.at.x);
        // Never upside down.
        if (std::abs(turn) > std::numbers::pi_v<float> / 2) {
            turn += turn > 0 ? -std::numbers::pi_v<float> : std::numbers::pi_v<float>;
        }
        const float c = std::cos(turn), s = std::sin(turn);
        const float half_x = size.x / 2 + rim, half_y = size.y / 2;
        const auto turned = [&](float x, float y) {
            return Place{middle.x + c * x + s * y, middle.y - s * x + c * y};
        };
        const std::array<Place, 4> ground{turned(-half_x, -half_y), turned(half_x, -half_y),
                                          turned(half_x, half_y), turned(-half_x, half_y)};
        const Rectangle spot = box_round(ground);
        if (!is_free(spot)) continue;
        pen_.fill(ground, {look_.theme.field, 0.9F});
        pen_.write_turned(Face::small, middle, turn, {look_.theme.muted}, curve.name);
        keep_free(spot);
        return true;
    }
    return false;
}

void Names::name_curve(const PlotCurve& curve) {
    if (curve.name.empty() || !is_shown(curve, frame_)) return;
    auto runs = seen_of(curve, frame_);
    if (curve.is_named_at_end) {
        std::ranges::reverse(runs);
        for (auto& run : runs) std::ranges::reverse(run);
    }
    for (const auto& run : runs) {
        if (name_run(curve, run)) return;
    }
}

}  // namespace

void draw_names(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame) {
    Names names(pen, look, frame);
    for (const PlotEllipse& each : view.ellipses) {
        if (each.is_faint() || each.is_own()) continue;
        const Place at = frame.at(each.x, each.y);
        const float radius = look.px(each.emphasis == Emphasis::light ? 3.4F : 6);
        names.keep_free({{at.x - radius, at.y - radius}, {at.x + radius, at.y + radius}});
    }
    for (const Emphasis emphasis : {Emphasis::own, Emphasis::chosen}) {
        for (const PlotEllipse& each : view.ellipses) {
            if (each.emphasis != emphasis) continue;
            names.name_ellipse(each);
            if (each.is_own()) names.keep_free(box_round(outline_of(each, frame)));
        }
    }
    for (const PlotCurve& curve : view.curves) names.name_curve(curve);
    for (const Emphasis emphasis : {Emphasis::normal, Emphasis::light}) {
        for (const PlotEllipse& each : view.ellipses) {
            if (each.emphasis == emphasis) names.name_ellipse(each);
        }
    }
}

}  // namespace coilbook::bench
