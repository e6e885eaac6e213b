#include "bench/widgets/plot_picture.h"

#include <cmath>
#include <map>
#include <numbers>

namespace coilbook::bench {
namespace {

// Above so many points they are dots of one size, below it marks that can be told by their shape.
constexpr std::size_t most_marks = 400;
// No more dots than this are drawn; where there are more, they lie upon one another anyway.
constexpr std::size_t most_dots = 4000;

void draw_mark_of(Pen& pen, const PlotLook& look, const PlotEllipse& ellipse,
                  const PlotFrame& frame) {
    const Place at = frame.at(ellipse.x, ellipse.y);
    const bool is_light = ellipse.emphasis == Emphasis::light;
    const float radius = look.px(is_light ? 2.6F : 4.5F);
    if (!is_light) {
        draw_mark(pen, ellipse.mark, at, radius + look.px(1.5F), look.theme.field,
                  look.theme.field);
    }
    draw_mark(pen, ellipse.mark, at, radius, look.series(ellipse.series), look.theme.field);
}

void draw_all_ellipses(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame,
                       Emphasis emphasis) {
    for (auto each = view.ellipses.rbegin(); each != view.ellipses.rend(); ++each) {
        if (each->emphasis == emphasis) draw_ellipse(pen, look, *each, frame);
    }
}

// Of `centres`, all of them inside of `box`, the first in each square of `cell` pixels.
std::vector<Place> thinned(const std::vector<Place>& centres, const Rectangle& box, float cell) {
    const auto square = [cell](float way) { return static_cast<std::size_t>(way / cell); };
    const std::size_t columns = square(box.width()) + 1, rows = square(box.height()) + 1;
    std::vector<bool> is_taken(columns * rows);
    std::vector<Place> kept;
    for (const Place at : centres) {
        const auto spot = square(at.y - box.low.y) * columns + square(at.x - box.low.x);
        if (is_taken[spot]) continue;
        is_taken[spot] = true;
        kept.push_back(at);
    }
    return kept;
}

void draw_light_points(Pen& pen, const PlotLook& look, const PlotView& view,
                       const PlotFrame& frame) {
    std::map<std::pair<std::size_t, Mark>, std::vector<Place>> kinds;
    std::size_t count = 0;
    for (const PlotPoint& point : view.points) {
        if (!point.is_light) continue;
        const Place at = frame.at(point.x, point.y);
        if (!frame.inside.holds(at)) continue;
        kinds[{point.series, point.mark}].push_back(at);
        ++count;
    }
    for (const auto& [kind, centres] : kinds) {
        const Colour colour = look.series(kind.first);
        if (count <= most_marks) {
            for (const Place at : centres) {
                // With a rim, or they would be taken for the middle of a class.
                draw_mark(pen, kind.second, at, look.px(5.2F), look.theme.text, look.theme.field);
                draw_mark(pen, kind.second, at, look.px(3.8F), colour, look.theme.field);
            }
            continue;
        }
        const auto share = most_dots * centres.size() / count + 1;
        auto kept = thinned(centres, frame.inside, look.px(1));
        for (float cell = look.px(1.5F); kept.size() > share; cell *= 1.5F) {
            kept = thinned(kept, frame.inside, cell);
        }
        pen.dots(kept, look.px(1.8F), {colour, 0.85F});
    }
}

// How sure a point is: an upright line with caps.
void draw_bar(Pen& pen, const PlotLook& look, const PlotPoint& point, const PlotFrame& frame) {
    if (!(point.sure > 0)) return;
    const Place top = frame.at(point.x, point.y + point.sure);
    const Place bottom = frame.at(point.x, point.y - point.sure);
    const LineLook line{{look.series(point.series)}, look.px(1.75F)};
    const float cap = look.px(5);
    for (const auto& [from, to] :
         {std::pair{top, bottom}, std::pair{Place{top.x - cap, top.y}, Place{top.x + cap, top.y}},
          std::pair{Place{bottom.x - cap, bottom.y}, Place{bottom.x + cap, bottom.y}}}) {
        pen.stroke(std::array<Place, 2>{from, to}, line);
    }
}

}  // namespace

void draw_ellipse(Pen& pen, const PlotLook& look, const PlotEllipse& ellipse,
                  const PlotFrame& frame) {
    const EllipseOutline outline = outline_of(ellipse, frame);
    const Rectangle around = box_round(outline);
    if (!overlap(around, frame.inside)) return;
    const Colour colour = ellipse.is_own() ? look.theme.text : look.series(ellipse.series);
    const auto fill = [&](float opacity) { pen.fill(outline, {colour, opacity}); };
    const auto line = [&](float width, float opacity) {
        pen.stroke(outline, {{colour, opacity}, look.px(width), ellipse.stroke, true});
    };
    // A halo in the ground's colour keeps crossing outlines apart.
    const auto halo = [&](float width) {
        pen.stroke(outline, {{look.theme.field}, look.px(width), Stroke::solid, true});
    };
    switch (ellipse.emphasis) {
        case Emphasis::faint:
            line(1.0F, 0.45F);
            break;
        case Emphasis::light:
            fill(0.07F);
            line(1.2F, 0.8F);
            break;
        case Emphasis::normal:
            fill(0.10F);
            halo(4.0F);
            line(1.6F, 1.0F);
            break;
        case Emphasis::chosen:
            fill(0.24F);
            halo(6.0F);
            line(3.0F, 1.0F);
            break;
        case Emphasis::own:
            fill(0.16F);
            halo(6.0F);
            line(3.25F, 1.0F);
            break;
    }
}

void draw_band(Pen& pen, const PlotLook& look, const PlotBand& band, const PlotFrame& frame) {
    const Axis& x = frame.shown.x;
    const Axis& y = frame.shown.y;
    Rectangle box{frame.at(band.is_across ? x.low : band.low, band.is_across ? band.high : y.high),
                  frame.at(band.is_across ? x.high : band.high, band.is_across ? band.low : y.low)};
    const float least = look.px(2.5F);  // a band that is very sure is still seen
    if (band.is_across && box.height() < least) box.high.y = box.low.y + least;
    if (!band.is_across && box.width() < least) box.high.x = box.low.x + least;
    pen.fill_box(box, {look.theme.text, 0.16F});
    const std::array<Place, 4> edge{
        box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}};
    pen.stroke(edge, {{look.theme.text, 0.8F}, look.px(1.25F), Stroke::solid, true});
    const Place size = pen.extent(Face::strong, band.name);
    const Rectangle& inside = frame.inside;
    const Place at =
        band.is_across ? Place{inside.high.x - size.x - look.px(8), box.low.y - size.y - look.px(2)}
                       : Place{box.high.x + look.px(5), inside.high.y - size.y - look.px(6)};
    pen.write(Face::strong, at, {look.theme.text}, band.name);
}

void draw_points(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame) {
    draw_light_points(pen, look, view, frame);
    for (const PlotPoint& point : view.points) {
        if (point.is_light) continue;
        const Place at = frame.at(point.x, point.y);
        draw_bar(pen, look, point, frame);
        if (!frame.inside.holds(at)) continue;
        draw_mark(pen, point.mark, at, look.px(6.5F), look.theme.field, look.theme.field);
        draw_mark(pen, point.mark, at, look.px(5), look.series(point.series), look.theme.field);
    }
}

// Of the upright axis, about `height` pixels high.
float widest_label(const Pen& pen, const PlotLook& look, const Axis& axis, float height) {
    float widest = 0;
    for (const Tick& tick : ticks_up(look, axis, height)) {
        widest = std::max(widest, pen.extent(Face::small, tick.label).x);
    }
    return widest;
}

std::optional<PlotFrame> draw_plot(Pen& pen, const PlotLook& look, const PlotView& view,
                                   const PlotWindow& shown, const Rectangle& box) {
    const float line_height = pen.extent(Face::small, "0").y;
    const int lines = legend_lines(pen, look, view, box.width() - look.px(58));
    const auto frame = frame_in(box, shown, look, line_height, lines,
                                widest_label(pen, look, shown.y, box.height()));
    if (!frame) return std::nullopt;
    draw_axes(pen, look, view, *frame);
    draw_legend(pen, look, view, *frame, lines);
    const bool label_fits = pen.extent(Face::small, view.y_label).x <= frame->inside.height();
    pen.write_turned(Face::small, {box.low.x + line_height / 2, frame->inside.middle().y},
                     std::numbers::pi_v<float> / 2, {look.theme.muted},
                     label_fits ? view.y_label : view.y_unit);
    const PenClip clip(pen, frame->inside);
    draw_curves(pen, look, view, *frame);
    draw_courses(pen, look, view, *frame);
    for (const Emphasis emphasis : {Emphasis::faint, Emphasis::light, Emphasis::normal}) {
        draw_all_ellipses(pen, look, view, *frame, emphasis);
    }
    for (const PlotBand& band : view.bands) draw_band(pen, look, band, *frame);
    for (const Emphasis emphasis : {Emphasis::chosen, Emphasis::own}) {
        draw_all_ellipses(pen, look, view, *frame, emphasis);
    }
    draw_points(pen, look, view, *frame);
    draw_names(pen, look, view, *frame);
    for (const PlotEllipse& each : view.ellipses) {
        if (!each.is_own() && !each.is_faint()) draw_mark_of(pen, look, each, *frame);
    }
    if (view.has_nothing() && !view.empty.empty()) {
        const Place size = pen.extent(Face::text, view.empty);
        const Place middle = frame->inside.middle();
        pen.write(Face::text, {middle.x - size.x / 2, middle.y - size.y / 2}, {look.theme.muted},
                  view.empty);
    }
    return frame;
}

}  // namespace coilbook::bench
