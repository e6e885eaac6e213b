// The axes of a plot with their ticks, its curves and its legend.
#include <cmath>

#include "bench/widgets/plot_picture.h"

namespace coilbook::bench {
namespace {

// The part of the way from `from` to `to` that is inside of `box`, as two shares of it; nothing
// where none is. Source: Liang and Barsky, ACM Trans. Graphics 3 (1984) 1 (from memory).
struct Part {
    float begin = 0.0F, end = 1.0F;
};
std::optional<Part> part_inside(Place from, Place to, const Rectangle& box) {
    const float right = to.x - from.x, down = to.y - from.y;
    const std::array<std::pair<float, float>, 4> edges{{{-right, from.x - box.low.x},
                                                        {right, box.high.x - from.x},
                                                        {-down, from.y - box.low.y},
                                                        {down, box.high.y - from.y}}};
    Part part;
    for (const auto& [speed, room] : edges) {
        if (speed == 0.0F) {
            if (room < 0.0F) return std::nullopt;
        } else if (speed < 0.0F) {
            part.begin = std::max(part.begin, room / speed);
        } else {
            part.end = std::min(part.end, room / speed);
        }
    }
    if (part.begin > part.end) return std::nullopt;
    return part;
}

float sample_width(const PlotLook& look, const PlotLegend& entry) {
    const bool is_mark =
        entry.sign == PlotLegend::Sign::mark || entry.sign == PlotLegend::Sign::rimmed_mark;
    return look.px(is_mark ? 12 : entry.sign == PlotLegend::Sign::band ? 22 : 36);
}

float width_of(const Pen& pen, const PlotLook& look, const PlotLegend& entry) {
    return sample_width(look, entry) + look.px(6) + pen.extent(Face::small, entry.name).x;
}

// A piece of a course, or of a band, between the two ends of `way`.
void draw_sample(Pen& pen, const PlotLook& look, const PlotLegend& entry, const Rectangle& way) {
    if (entry.sign == PlotLegend::Sign::course) {
        return pen.stroke(std::array<Place, 2>{way.low, way.high},
                          {{look.series(entry.series)}, look.px(2.4F), entry.stroke});
    }
    const float half = look.px(5);
    const std::array<Place, 4> corners{{{way.low.x, way.low.y - half},
                                        {way.high.x, way.low.y - half},
                                        {way.high.x, way.low.y + half},
                                        {way.low.x, way.low.y + half}}};
    pen.fill(corners, {look.theme.text, 0.16F});
    pen.stroke(corners, {{look.theme.text, 0.8F}, look.px(1), Stroke::solid, true});
}

// Deals the entries out to lines, the first of them shorter by the axis' name: calls `place` with
// each entry, its line and its left edge from 0. Gives the number of lines used.
template <class PlaceEntry>
int flow(const Pen& pen, const PlotLook& look, const PlotView& view, float width, int most,
         PlaceEntry place) {
    const float label = pen.extent(Face::small, view.x_label).x + look.px(12);
    int line = 0;
    float x = 0;
    for (const PlotLegend& entry : view.legend) {
        const float wide = width_of(pen, look, entry);
        const float room = width - (line == 0 ? label : 0);
        if (x > 0 && x + wide > room) {
            if (line + 1 >= most) break;
            ++line;
            x = 0;
        }
        place(entry, line, x);
        x += wide + look.px(14);
    }
    return line + 1;
}

}  // namespace

std::vector<Tick> ticks_up(const PlotLook& look, const Axis& axis, float height) {
    return ticks(axis, look.px(22) / height);
}

void draw_axes(Pen& pen, const PlotLook& look, const PlotView&, const PlotFrame& frame) {
    const Theme& theme = look.theme;
    const Rectangle& inside = frame.inside;
    // Where an axis goes through zero, that is the line that all is held against.
    const auto grid = [&](const Axis& axis, const Tick& tick) {
        const bool is_zero = axis.spacing == Spacing::even && tick.value == 0.0;
        return LineLook{{is_zero ? theme.field_border : theme.grid}, look.px(is_zero ? 1.5F : 1)};
    };
    pen.fill_box(inside, {theme.field}, look.px(4));
    for (const Tick& tick : ticks(frame.shown.x, look.px(38) / inside.width())) {
        const float x = std::round(frame.at(tick.value, frame.shown.y.low).x);
        pen.stroke(std::array<Place, 2>{{{x, inside.low.y}, {x, inside.high.y}}},
                   grid(frame.shown.x, tick));
        const Place size = pen.extent(Face::small, tick.label);
        pen.write(Face::small, {x - size.x / 2, inside.high.y + look.px(5)}, {theme.muted},
                  tick.label);
    }
    for (const Tick& tick : ticks_up(look, frame.shown.y, inside.height())) {
        const float y = std::round(frame.at(frame.shown.x.low, tick.value).y);
        pen.stroke(std::array<Place, 2>{{{inside.low.x, y}, {inside.high.x, y}}},
                   grid(frame.shown.y, tick));
        const Place size = pen.extent(Face::small, tick.label);
        pen.write(Face::small, {inside.low.x - look.px(7) - size.x, y - size.y / 2}, {theme.muted},
                  tick.label);
    }
    const Place corner{inside.low.x, inside.high.y};
    const LineLook edge{{theme.field_border}, look.px(1.5F)};
    pen.stroke(std::array<Place, 2>{corner, inside.high}, edge);
    pen.stroke(std::array<Place, 2>{inside.low, corner}, edge);
}

bool is_shown(const PlotCurve& curve, const PlotFrame& frame) {
    return frame.shown.y.high / frame.shown.y.low <= curve.up_to_span;
}

std::vector<std::vector<Place>> seen_of(const PlotCurve& curve, const PlotFrame& frame) {
    std::vector<std::vector<Place>> runs;
    bool goes_on = false;  // the last run ends where this piece begins
    for (std::size_t at = 1; at < curve.points.size(); ++at) {
        const Place from = frame.at(curve.points[at - 1].x, curve.points[at - 1].y);
        const Place to = frame.at(curve.points[at].x, curve.points[at].y);
        const auto part = part_inside(from, to, frame.inside);
        if (!part) {
            goes_on = false;
            continue;
        }
        const auto on_it = [&](float share) {
            return Place{from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
        };
        if (!goes_on) runs.push_back({on_it(part->begin)});
        runs.back().push_back(on_it(part->end));
        goes_on = part->end >= 1.0F;
    }
    return runs;
}

void draw_curves(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame) {
    for (const PlotCurve& curve : view.curves) {
        if (!is_shown(curve, frame)) continue;
        const float width = look.px(curve.stroke == Stroke::dotted ? 1.4F : 1.1F);
        for (const auto& run : seen_of(curve, frame)) {
            pen.stroke(run, {{look.theme.muted, 0.55F}, width, curve.stroke});
        }
    }
}

int legend_lines(const Pen& pen, const PlotLook& look, const PlotView& view, float width) {
    return flow(pen, look, view, width, 2, [](const PlotLegend&, int, float) {});
}

void draw_legend(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame,
                 int lines) {
    const Theme& theme = look.theme;
    const Rectangle& inside = frame.inside;
    const float high = pen.extent(Face::small, "0").y;
    const float top = inside.high.y + high + look.px(9);
    const float label = pen.extent(Face::small, view.x_label).x;
    pen.write(Face::small, {inside.high.x - label, top}, {theme.muted}, view.x_label);
    flow(pen, look, view, inside.width(), lines, [&](const PlotLegend& entry, int line, float x) {
        const float wide = sample_width(look, entry);
        const float y = top + static_cast<float>(line) * (high + look.px(4));
        const Place from{inside.low.x + x, std::round(y + high / 2)};
        if (entry.sign == PlotLegend::Sign::band || entry.sign == PlotLegend::Sign::course) {
            draw_sample(pen, look, entry, {from, {from.x + wide, from.y}});
            pen.write(Face::small, {from.x + wide + look.px(6), y}, {theme.text}, entry.name);
            return;
        }
        const bool is_curve = entry.sign == PlotLegend::Sign::curve;
        const Ink ink = is_curve ? Ink{theme.muted, 0.75F} : Ink{look.series(entry.series)};
        if (is_curve || entry.sign == PlotLegend::Sign::both) {
            pen.stroke(std::array<Place, 2>{from, Place{from.x + wide, from.y}},
                       {ink, look.px(1.6F), entry.stroke});
        }
        const Place middle{from.x + wide / 2, from.y};
        if (entry.sign == PlotLegend::Sign::rimmed_mark) {
            draw_mark(pen, entry.mark, middle, look.px(5.8F), theme.text, theme.card);
        }
        if (!is_curve) {
            draw_mark(pen, entry.mark, middle, look.px(4.5F), look.series(entry.series),
                      theme.card);
        }
        pen.write(Face::small, {from.x + wide + look.px(6), y}, {theme.text}, entry.name);
    });
}

}  // namespace coilbook::bench
