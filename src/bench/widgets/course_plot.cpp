#include "bench/widgets/course_plot.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "bench/widgets/scope.h"
#include "bench/widgets/screen_pen.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {
namespace {

struct Frame {
    Rectangle inside;
    const CoursePlotView& view;

    [[nodiscard]] Place at(double x, double y) const {
        const auto bounded = [](double share) {
            return static_cast<float>(std::clamp(share, -20.0, 20.0));
        };
        return {inside.low.x + bounded(view.x.share(x)) * inside.width(),
                inside.high.y - bounded(view.y.share(y)) * inside.height()};
    }
};

void draw_axes(Pen& pen, const PlotLook& look, const Frame& frame) {
    const Theme& theme = look.theme;
    const Rectangle& inside = frame.inside;
    pen.fill_box(inside, {theme.field}, look.px(4));
    const auto grid = [&](bool is_zero) {
        return LineLook{{is_zero ? theme.field_border : theme.grid}, look.px(1)};
    };
    const int across = std::clamp(static_cast<int>(inside.width() / look.px(70)), 2, 10);
    const int up = std::clamp(static_cast<int>(inside.height() / look.px(36)), 2, 8);
    for (const Tick& tick : ticks(frame.view.x, across)) {
        const float x = std::round(frame.at(tick.value, frame.view.y.low).x);
        pen.stroke(std::array<Place, 2>{{{x, inside.low.y}, {x, inside.high.y}}}, grid(false));
        const Place size = pen.extent(Face::small, tick.label);
        pen.write(Face::small, {x - size.x / 2, inside.high.y + look.px(5)}, {theme.muted},
                  tick.label);
    }
    for (const Tick& tick : ticks(frame.view.y, up)) {
        const float y = std::round(frame.at(frame.view.x.low, tick.value).y);
        pen.stroke(std::array<Place, 2>{{{inside.low.x, y}, {inside.high.x, y}}},
                   grid(tick.value == 0.0));
        const Place size = pen.extent(Face::small, tick.label);
        pen.write(Face::small, {inside.low.x - look.px(7) - size.x, y - size.y / 2}, {theme.muted},
                  tick.label);
    }
    const LineLook edge{{theme.field_border}, look.px(1.5F)};
    const Place corner{inside.low.x, inside.high.y};
    pen.stroke(std::array<Place, 2>{corner, inside.high}, edge);
    pen.stroke(std::array<Place, 2>{inside.low, corner}, edge);
}

// Piece by piece, since a pen fills convex shapes alone.
void draw_band(Pen& pen, const PlotLook& look, const Frame& frame, const Course& course) {
    const Ink ink{look.series(course.series), 0.16F};
    for (std::size_t at = 1; at < course.points.size(); ++at) {
        const auto& one = course.points[at - 1];
        const auto& two = course.points[at];
        const std::array<Place, 4> piece{
            frame.at(one.x, one.y + one.sure), frame.at(two.x, two.y + two.sure),
            frame.at(two.x, two.y - two.sure), frame.at(one.x, one.y - one.sure)};
        pen.fill(piece, ink);
    }
}

void draw_course(Pen& pen, const PlotLook& look, const Frame& frame, const Course& course) {
    std::vector<Place> line, above, below;
    for (const auto& each : course.points) {
        line.push_back(frame.at(each.x, each.y));
        above.push_back(frame.at(each.x, each.y + each.sure));
        below.push_back(frame.at(each.x, each.y - each.sure));
    }
    const Colour colour = look.series(course.series);
    pen.stroke(above, {{colour, 0.5F}, look.px(1)});
    pen.stroke(below, {{colour, 0.5F}, look.px(1)});
    pen.stroke(line, {{look.theme.field}, look.px(5)});
    pen.stroke(line, {{colour}, look.px(2.4F), course.stroke});
}

void draw_legend(Pen& pen, const PlotLook& look, const Frame& frame, float below) {
    const float line_height = pen.extent(Face::small, "0").y;
    float x = frame.inside.low.x;
    const float end = frame.inside.high.x;
    for (const Course& course : frame.view.courses) {
        const Place size = pen.extent(Face::small, course.name);
        if (x + look.px(42) + size.x > end) break;
        const float middle = below + line_height / 2;
        pen.stroke(std::array<Place, 2>{{{x, middle}, {x + look.px(34), middle}}},
                   {{look.series(course.series)}, look.px(2.4F), course.stroke});
        pen.write(Face::small, {x + look.px(42), below}, {look.theme.text}, course.name);
        x += look.px(42) + size.x + look.px(18);
    }
    const Place size = pen.extent(Face::small, frame.view.note);
    if (x + size.x <= end) {
        pen.write(Face::small, {end - size.x, below}, {look.theme.muted}, frame.view.note);
    }
}

}  // namespace

std::optional<CoursePlotView::ReadOut> CoursePlotView::nearest(double x_value) const {
    ReadOut found;
    for (const Course& course : courses) {
        if (course.points.empty()) continue;
        const auto best = std::ranges::min_element(
            course.points, {}, [&](const CoursePoint& each) { return std::abs(each.x - x_value); });
        found.x = best->x;
        found.dots.emplace_back(best->y, course.series);
        found.at.push_back(static_cast<std::size_t>(best - course.points.begin()));
    }
    if (found.dots.empty()) return std::nullopt;
    return found;
}

std::optional<Rectangle> draw_course_plot(Pen& pen, const PlotLook& look,
                                          const CoursePlotView& view, const Rectangle& box) {
    const float line_height = pen.extent(Face::small, "0").y;
    const float below = 3 * line_height + look.px(18);
    const Frame frame{{{box.low.x + look.px(52), box.low.y + look.px(6)},
                       {box.high.x - look.px(10), box.high.y - below}},
                      view};
    if (frame.inside.width() < look.px(60) || frame.inside.height() < look.px(40)) {
        return std::nullopt;
    }
    draw_axes(pen, look, frame);
    const Rectangle& inside = frame.inside;
    const Place label = pen.extent(Face::small, view.x_label);
    pen.write(Face::small,
              {inside.middle().x - label.x / 2, inside.high.y + line_height + look.px(7)},
              {look.theme.muted}, view.x_label);
    pen.write_turned(Face::small, {box.low.x + line_height / 2, inside.middle().y},
                     std::numbers::pi_v<float> / 2, {look.theme.muted}, view.y_label);
    draw_legend(pen, look, frame, inside.high.y + 2 * line_height + look.px(11));
    const PenClip clip(pen, inside);
    for (auto each = view.courses.rbegin(); each != view.courses.rend(); ++each) {
        draw_band(pen, look, frame, *each);
    }
    for (auto each = view.courses.rbegin(); each != view.courses.rend(); ++each) {
        draw_course(pen, look, frame, *each);
    }
    if (view.courses.empty() && !view.empty.empty()) {
        const Place size = pen.extent(Face::text, view.empty);
        const Place middle = inside.middle();
        pen.write(Face::text, {middle.x - size.x / 2, middle.y - size.y / 2}, {look.theme.muted},
                  view.empty);
    }
    return inside;
}

std::optional<std::size_t> course_plot(const Look& look, const char* id, const CoursePlotView& view,
                                       const std::vector<std::string>& words,
                                       std::optional<std::size_t> pointed, float width,
                                       float height) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(id, {std::max(width, 1.0F), std::max(height, 1.0F)});
    note_item(look, id, view.x_label);
    ScreenPen pen(*ImGui::GetWindowDrawList(), look.fonts);
    const PlotLook plot_look{*look.theme, look.scale};
    const auto inside = draw_course_plot(
        pen, plot_look, view, {{corner.x, corner.y}, {corner.x + width, corner.y + height}});
    if (!inside || view.courses.empty()) return std::nullopt;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const bool is_over = ImGui::IsItemHovered() && inside->holds(Place{mouse.x, mouse.y});
    const Frame frame{*inside, view};
    std::optional<CoursePlotView::ReadOut> read;
    if (is_over) {
        const double share = (mouse.x - inside->low.x) / inside->width();
        read = view.nearest(view.x.low + share * (view.x.high - view.x.low));
    } else if (pointed && *pointed < view.courses.front().points.size()) {
        read = view.nearest(view.courses.front().points[*pointed].x);
    }
    if (!read) return std::nullopt;
    const float x = std::round(frame.at(read->x, view.y.low).x);
    pen.stroke(std::array<Place, 2>{{{x, inside->low.y}, {x, inside->high.y}}},
               {{look.theme->muted}, look.px(1)});
    for (const auto& [y, series] : read->dots) {
        const Place at = frame.at(read->x, y);
        pen.fill_circle(at, look.px(5.5F), {look.theme->field});
        pen.fill_circle(at, look.px(4), {plot_look.series(series)});
    }
    if (!is_over) return std::nullopt;
    const std::size_t index = read->at.front();
    if (index < words.size()) {
        const TooltipScope tip;
        ImGui::TextUnformatted(words[index].c_str());
    }
    return index;
}

}  // namespace coilbook::bench
