#include "bench/widgets/plot.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>
#include <vector>

#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

// The inside of the axes on the screen.
struct Frame {
    ImVec2 low, high;  // upper left and lower right corner
    const PlotView* view;

    [[nodiscard]] ImVec2 at(double x, double y) const {
        // Far outside is cut, so that no number is too large for a pixel.
        const auto bounded = [](double share) {
            return static_cast<float>(std::clamp(share, -20.0, 20.0));
        };
        return {low.x + bounded(view->x.share(x)) * (high.x - low.x),
                high.y - bounded(view->y.share(y)) * (high.y - low.y)};
    }
};

// Writes upwards: the letters are drawn level and their corners turned by a quarter.
void put_upright(ImDrawList& list, ImFont* font, ImVec2 centre, ImU32 colour,
                 const std::string& text) {
    const ImVec2 size = extent(font, text);
    const int first = list.VtxBuffer.Size;
    const ImVec2 at{std::round(centre.x - size.x / 2), std::round(centre.y - size.y / 2)};
    // Clipped away before it is turned would be lost, hence the wide clip.
    list.PushClipRect({-1e5F, -1e5F}, {1e5F, 1e5F}, false);
    put(list, font, at, colour, text.c_str());
    list.PopClipRect();
    const ImVec2 pivot{std::round(centre.x), std::round(centre.y)};
    for (int index = first; index < list.VtxBuffer.Size; ++index) {
        ImVec2& corner = list.VtxBuffer[index].pos;
        corner = {pivot.x + (corner.y - pivot.y), pivot.y - (corner.x - pivot.x)};
    }
}

constexpr int corners = 72;
using Outline = std::array<ImVec2, corners>;

// The points (ln x, ln y) = centre + reach * L (cos t, sin t), with L the Cholesky root of the
// covariance: [sx, 0; r sy, sy sqrt(1 - r²)].
Outline outline_of(const PlotEllipse& ellipse, const Frame& frame) {
    Outline points;
    const double r = std::clamp(ellipse.correlation, -0.9999, 0.9999);
    const double across = std::sqrt(1.0 - r * r);
    for (int index = 0; index < corners; ++index) {
        const double t = 2.0 * std::numbers::pi * index / corners;
        const double u = ellipse.reach * std::cos(t), v = ellipse.reach * std::sin(t);
        points[static_cast<std::size_t>(index)] =
            frame.at(ellipse.x * std::exp(ellipse.sd_ln_x * u),
                     ellipse.y * std::exp(ellipse.sd_ln_y * (r * u + across * v)));
    }
    return points;
}

// Lengths of ink and of nothing in turn, as multiples of the pen's width; empty for a solid line.
std::span<const float> pattern_of(Stroke stroke) {
    static constexpr std::array dashed{6.0F, 3.0F};
    static constexpr std::array dotted{1.2F, 2.4F};
    static constexpr std::array dash_dotted{6.0F, 2.4F, 1.2F, 2.4F};
    switch (stroke) {
        case Stroke::solid:
            return {};
        case Stroke::dashed:
            return dashed;
        case Stroke::dotted:
            return dotted;
        case Stroke::dash_dotted:
            return dash_dotted;
    }
    return {};
}

// Draws the line through `points` with a pen of that width and pattern.
void draw_stroke(ImDrawList& list, std::span<const ImVec2> points, bool closed, ImU32 colour,
                 float pen, Stroke stroke) {
    const std::span<const float> pattern = pattern_of(stroke);
    const int count = static_cast<int>(points.size());
    if (pattern.empty()) {
        list.AddPolyline(points.data(), count, colour, closed ? ImDrawFlags_Closed : 0, pen);
        return;
    }
    std::size_t part = 0;
    float left = pattern[0] * pen;  // of the part of the pattern that is being drawn
    for (std::size_t at = 0; at + (closed ? 0 : 1) < points.size(); ++at) {
        const ImVec2 from = points[at], to = points[(at + 1) % points.size()];
        const float length = std::hypot(to.x - from.x, to.y - from.y);
        if (!(length > 0) || length > 1e5F) continue;
        const auto on_it = [&](float share) {
            return ImVec2{from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
        };
        for (float done = 0; done < length;) {
            const float step = std::min(left, length - done);
            if (part % 2 == 0) {
                list.AddLine(on_it(done / length), on_it((done + step) / length), colour, pen);
            }
            done += step;
            left -= step;
            if (left > 1e-3F) continue;
            part = (part + 1) % pattern.size();
            left = pattern[part] * pen;
        }
    }
}

// How many standard deviations (x, y) is away from the centre.
double distance(const PlotEllipse& ellipse, double x, double y) {
    if (!(ellipse.sd_ln_x > 0) || !(ellipse.sd_ln_y > 0)) return 1e9;
    const double r = std::clamp(ellipse.correlation, -0.9999, 0.9999);
    const double a = std::log(x / ellipse.x) / ellipse.sd_ln_x;
    const double b = std::log(y / ellipse.y) / ellipse.sd_ln_y;
    return std::sqrt(std::max(0.0, (a * a - 2 * r * a * b + b * b) / (1 - r * r)));
}

void draw_axes(const Look& look, ImDrawList& list, const Frame& frame) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const float wide = frame.high.x - frame.low.x, high = frame.high.y - frame.low.y;
    const PlotView& view = *frame.view;
    list.AddRectFilled(frame.low, frame.high, ink(theme.field), look.px(4));
    for (const Tick& tick : ticks(view.x, look.px(34) / wide)) {
        const float x = std::round(frame.at(tick.value, view.y.low).x);
        list.AddLine({x, frame.low.y}, {x, frame.high.y}, ink(theme.grid), look.px(1));
        put(list, font, {x - extent(font, tick.label).x / 2, frame.high.y + look.px(5)},
            ink(theme.muted), tick.label);
    }
    for (const Tick& tick : ticks(view.y, look.px(22) / high)) {
        const float y = std::round(frame.at(view.x.low, tick.value).y);
        list.AddLine({frame.low.x, y}, {frame.high.x, y}, ink(theme.grid), look.px(1));
        put(list, font,
            {frame.low.x - look.px(7) - extent(font, tick.label).x, y - font->FontSize / 2},
            ink(theme.muted), tick.label);
    }
    list.AddLine({frame.low.x, frame.high.y}, frame.high, ink(theme.field_border), look.px(1.5F));
    list.AddLine(frame.low, {frame.low.x, frame.high.y}, ink(theme.field_border), look.px(1.5F));
}

void draw_ellipse(const Look& look, ImDrawList& list, const Frame& frame,
                  const PlotEllipse& ellipse) {
    const Theme& theme = *look.theme;
    const Outline outline = outline_of(ellipse, frame);
    if (ellipse.is_faint) {
        draw_stroke(list, outline, true,
                    ink(theme.series[ellipse.series % theme.series.size()], 0.45F), look.px(1),
                    ellipse.stroke);
        return;
    }
    const Colour colour =
        ellipse.own ? theme.text : theme.series[ellipse.series % theme.series.size()];
    list.AddConvexPolyFilled(outline.data(), corners, ink(colour, ellipse.own ? 0.16F : 0.10F));
    // A halo in the ground's colour keeps crossing outlines apart.
    list.AddPolyline(outline.data(), corners, ink(theme.field), ImDrawFlags_Closed,
                     look.px(ellipse.own ? 6.0F : 4.0F));
    draw_stroke(list, outline, true, ink(colour), look.px(ellipse.own ? 3.25F : 1.6F),
                ellipse.stroke);
}

void draw_band(const Look& look, ImDrawList& list, const Frame& frame, const PlotBand& band) {
    const Theme& theme = *look.theme;
    ImVec2 low = frame.at(band.is_across ? frame.view->x.low : band.low,
                          band.is_across ? band.high : frame.view->y.high);
    ImVec2 high = frame.at(band.is_across ? frame.view->x.high : band.high,
                           band.is_across ? band.low : frame.view->y.low);
    const float least = look.px(2.5F);  // a band that is very sure is still seen
    if (band.is_across && high.y - low.y < least) high.y = low.y + least;
    if (!band.is_across && high.x - low.x < least) high.x = low.x + least;
    list.AddRectFilled(low, high, ink(theme.text, 0.16F));
    list.AddRect(low, high, ink(theme.text, 0.8F), 0, 0, look.px(1.25F));
    const ImVec2 size = extent(look.fonts.strong, band.name);
    const ImVec2 at = band.is_across
                          ? ImVec2{frame.high.x - size.x - look.px(8), low.y - size.y - look.px(2)}
                          : ImVec2{high.x + look.px(5), frame.high.y - size.y - look.px(6)};
    put(list, look.fonts.strong, at, ink(theme.text), band.name);
}

struct Placed {
    ImVec2 low, high;
};
bool overlap(const Placed& a, const Placed& b) {
    return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y;
}

// What surrounds an outline on the screen.
Placed box_of(const Outline& outline) {
    const auto [left, right] =
        std::ranges::minmax_element(outline, {}, [](const ImVec2& p) { return p.x; });
    const auto [top, bottom] =
        std::ranges::minmax_element(outline, {}, [](const ImVec2& p) { return p.y; });
    return {{left->x, top->y}, {right->x, bottom->y}};
}

// Where a name of that size may stand round `box`, the best place first: beside it, above or
// below, at its corners, and then a line further away each time.
std::vector<ImVec2> places_round(const Placed& box, ImVec2 size, float gap) {
    const float middle_x = (box.low.x + box.high.x - size.x) / 2;
    const float middle_y = (box.low.y + box.high.y - size.y) / 2;
    const float right = box.high.x + gap, left = box.low.x - gap - size.x;
    std::vector<ImVec2> places;
    for (int lines = 0; lines < 4; ++lines) {
        const float away = static_cast<float>(lines) * size.y;
        const float above = box.low.y - gap - size.y - away, below = box.high.y + gap + away;
        places.insert(places.end(), {{right, middle_y - away},
                                     {right, middle_y + away},
                                     {left, middle_y - away},
                                     {left, middle_y + away},
                                     {middle_x, above},
                                     {middle_x, below},
                                     {right, above},
                                     {right, below},
                                     {left, above},
                                     {left, below}});
    }
    return places;
}

// Names of the ellipses, strongest first: the coil's beside its outline, a class's beside the mark
// at its centre, joined to it by a line where it stands apart. None covers another name, the coil
// in hand or another mark.
void draw_names(const Look& look, ImDrawList& list, const Frame& frame) {
    const Theme& theme = *look.theme;
    std::vector<Placed> taken;
    const float apart = look.px(5), radius = look.px(6);
    const auto mark_of = [&](const PlotEllipse& ellipse) {
        const ImVec2 at = frame.at(ellipse.x, ellipse.y);
        return Placed{{at.x - radius, at.y - radius}, {at.x + radius, at.y + radius}};
    };
    const auto place = [&](const PlotEllipse& ellipse, ImFont* font, const Placed& beside) {
        const ImVec2 size = extent(font, ellipse.name);
        for (const ImVec2 at : places_round(beside, size, look.px(2))) {
            const Placed spot{{at.x - apart, at.y}, {at.x + size.x + apart, at.y + size.y}};
            const bool inside = spot.low.x >= frame.low.x && spot.low.y >= frame.low.y &&
                                spot.high.x <= frame.high.x && spot.high.y <= frame.high.y;
            const bool is_free = std::ranges::none_of(
                taken, [&](const Placed& other) { return overlap(spot, other); });
            if (!inside || !is_free) continue;
            const ImVec2 centre{(beside.low.x + beside.high.x) / 2,
                                (beside.low.y + beside.high.y) / 2};
            const ImVec2 near{std::clamp(centre.x, at.x, at.x + size.x),
                              std::clamp(centre.y, at.y, at.y + size.y)};
            if (std::hypot(near.x - centre.x, near.y - centre.y) > 1.4F * radius && !ellipse.own) {
                list.AddLine(centre, near, ink(theme.muted), look.px(1));
            }
            list.AddRectFilled({at.x - look.px(2), at.y},
                               {at.x + size.x + look.px(2), at.y + size.y}, ink(theme.field, 0.75F),
                               look.px(3));
            put(list, font, at, ink(theme.text), ellipse.name);
            taken.push_back(spot);
            return;
        }
    };
    for (const PlotEllipse& each : frame.view->ellipses) {
        if (!each.is_faint && !each.own) taken.push_back(mark_of(each));
    }
    for (const PlotEllipse& each : frame.view->ellipses) {
        if (!each.own || each.name.empty()) continue;
        // What is outside of the frame is not seen: the name stands by what is.
        Placed box = box_of(outline_of(each, frame));
        box.low = {std::max(box.low.x, frame.low.x), std::max(box.low.y, frame.low.y)};
        box.high = {std::min(box.high.x, frame.high.x), std::min(box.high.y, frame.high.y)};
        place(each, look.fonts.strong, box);
        taken.push_back(box);
    }
    for (const PlotEllipse& each : frame.view->ellipses) {
        if (each.own || each.is_faint || each.name.empty()) continue;
        const ImVec2 at = frame.at(each.x, each.y);
        const bool is_seen = at.x >= frame.low.x && at.x <= frame.high.x && at.y >= frame.low.y &&
                             at.y <= frame.high.y;
        if (is_seen) place(each, look.fonts.small, mark_of(each));
    }
}

// Below the axis, in one line with its name; entries that do not fit are left out.
void draw_legend(const Look& look, ImDrawList& list, const Frame& frame, float y) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const float label = extent(font, frame.view->x_label).x;
    put(list, font, {frame.high.x - label, y}, ink(theme.muted), frame.view->x_label);
    float x = frame.low.x;
    for (const PlotLegend& entry : frame.view->legend) {
        const float sample = look.px(36), before = sample + look.px(6);
        const float width = before + extent(font, entry.name).x;
        if (x + width > frame.high.x - label - look.px(12)) return;
        const Colour colour = theme.series[entry.series % theme.series.size()];
        const float middle = std::round(y + font->FontSize / 2);
        const std::array line{ImVec2{x, middle}, ImVec2{x + sample, middle}};
        draw_stroke(list, line, false, ink(colour), look.px(1.6F), entry.stroke);
        draw_mark(list, entry.mark, x + sample / 2, middle, look.px(4.5F), colour, theme.card);
        put(list, font, {x + before, y}, ink(theme.text), entry.name);
        x += width + look.px(14);
    }
}

// What is under the mouse: the nearest point within reach, else the closest ellipse around it.
const std::string* under_mouse(const Look& look, const Frame& frame, ImVec2 mouse) {
    const PlotView& view = *frame.view;
    const std::string* found = nullptr;
    float nearest = look.px(12);
    for (const PlotPoint& point : view.points) {
        const ImVec2 at = frame.at(point.x, point.y);
        const float away = std::hypot(at.x - mouse.x, at.y - mouse.y);
        if (away < nearest && !point.readout.empty()) {
            nearest = away;
            found = &point.readout;
        }
    }
    if (found != nullptr) return found;
    const double x = view.x.value((mouse.x - frame.low.x) / (frame.high.x - frame.low.x));
    const double y = view.y.value((frame.high.y - mouse.y) / (frame.high.y - frame.low.y));
    double least = 1e9;
    for (const PlotEllipse& ellipse : view.ellipses) {
        const double away = distance(ellipse, x, y) / ellipse.reach;
        if (away <= 1.0 && away < least && !ellipse.readout.empty()) {
            least = away;
            found = &ellipse.readout;
        }
    }
    return found;
}

}  // namespace

void plot(const Look& look, const char* id, const PlotView& view, float width, float height) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(id, {std::max(width, 1.0F), std::max(height, 1.0F)});
    note_item(look, id, view.x_label);
    const bool hovered = ImGui::IsItemHovered();
    const float left = look.px(52), below = font->FontSize * 2 + look.px(16);
    const Frame frame{{corner.x + left, corner.y + look.px(4)},
                      {corner.x + width - look.px(6), corner.y + height - below},
                      &view};
    if (frame.high.x - frame.low.x < look.px(60) || frame.high.y - frame.low.y < look.px(40)) {
        return;  // no room for anything that could be read
    }
    ImDrawList& list = *ImGui::GetWindowDrawList();
    draw_axes(look, list, frame);
    draw_legend(look, list, frame, frame.high.y + font->FontSize + look.px(9));
    const bool label_fits = extent(font, view.y_label).x <= frame.high.y - frame.low.y;
    put_upright(list, font, {corner.x + font->FontSize / 2, (frame.low.y + frame.high.y) / 2},
                ink(theme.muted), label_fits ? view.y_label : view.y_unit);
    {
        const ClipScope clip(list, frame.low, frame.high);
        const std::vector<PlotEllipse>& all = view.ellipses;
        for (auto each = all.rbegin(); each != all.rend(); ++each) {
            if (each->is_faint) draw_ellipse(look, list, frame, *each);
        }
        for (auto each = all.rbegin(); each != all.rend(); ++each) {
            if (!each->is_faint && !each->own) draw_ellipse(look, list, frame, *each);
        }
        for (const PlotBand& band : view.bands) draw_band(look, list, frame, band);
        for (const PlotEllipse& each : all) {
            if (each.own) draw_ellipse(look, list, frame, each);
        }
        for (const PlotPoint& point : view.points) {
            const ImVec2 at = frame.at(point.x, point.y);
            draw_mark(list, point.mark, at.x, at.y, look.px(6.5F), theme.field, theme.field);
            draw_mark(list, point.mark, at.x, at.y, look.px(5),
                      theme.series[point.series % theme.series.size()], theme.field);
        }
        draw_names(look, list, frame);
        for (const PlotEllipse& each : view.ellipses) {
            if (each.own || each.is_faint) continue;
            const ImVec2 at = frame.at(each.x, each.y);
            draw_mark(list, each.mark, at.x, at.y, look.px(6), theme.field, theme.field);
            draw_mark(list, each.mark, at.x, at.y, look.px(4.5F),
                      theme.series[each.series % theme.series.size()], theme.field);
        }
        if (view.ellipses.empty() && view.points.empty() && !view.empty.empty()) {
            const ImVec2 size = extent(look.fonts.text, view.empty);
            put(list, look.fonts.text,
                {(frame.low.x + frame.high.x - size.x) / 2,
                 (frame.low.y + frame.high.y - size.y) / 2},
                ink(theme.muted), view.empty);
        }
    }
    if (!hovered) return;
    if (const std::string* words = under_mouse(look, frame, ImGui::GetMousePos())) {
        const TooltipScope tip;
        const StyleScope line_gap(ImGuiStyleVar_ItemSpacing, {look.px(8), look.px(4)});
        ImGui::TextUnformatted(words->c_str());
    }
}

}  // namespace coilbook::bench
