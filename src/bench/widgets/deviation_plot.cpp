#include "bench/widgets/deviation_plot.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "bench/widgets/marks.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

struct Frame {
    ImVec2 low, high;  // upper left and lower right corner of the inside of the axes
    const DeviationPlotView* view;

    [[nodiscard]] float x(double value) const {
        return low.x + bounded(view->x.share(value)) * (high.x - low.x);
    }
    [[nodiscard]] float y(double value) const {
        return high.y - bounded(view->y.share(value)) * (high.y - low.y);
    }
    [[nodiscard]] static float bounded(double share) {
        return static_cast<float>(std::clamp(share, -20.0, 20.0));
    }
};

void draw_axes(const Look& look, ImDrawList& list, const Frame& frame) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    list.AddRectFilled(frame.low, frame.high, ink(theme.field), look.px(4));
    const float wide = frame.high.x - frame.low.x, high = frame.high.y - frame.low.y;
    const int across = std::clamp(static_cast<int>(wide / look.px(80)), 2, 8);
    const int up = std::clamp(static_cast<int>(high / look.px(42)), 2, 8);
    for (const Tick& tick : ticks(frame.view->x, across)) {
        const float x = std::round(frame.x(tick.value));
        list.AddLine({x, frame.low.y}, {x, frame.high.y}, ink(theme.grid), look.px(1));
        const float half = extent(font, tick.label).x / 2;
        if (x - half < frame.low.x - look.px(20) || x + half > frame.high.x + look.px(10)) continue;
        put(list, font, {x - half, frame.high.y + look.px(4)}, ink(theme.muted), tick.label);
    }
    for (const Tick& tick : ticks(frame.view->y, up)) {
        const float y = std::round(frame.y(tick.value));
        // No error at all is the line that everything is held against.
        const bool is_zero = tick.value == 0.0;
        list.AddLine({frame.low.x, y}, {frame.high.x, y},
                     ink(is_zero ? theme.field_border : theme.grid), look.px(is_zero ? 1.5F : 1));
        put(list, font,
            {frame.low.x - extent(font, tick.label).x - look.px(7), y - font->FontSize / 2},
            ink(theme.muted), tick.label);
    }
    list.AddRect(frame.low, frame.high, ink(theme.border), look.px(4), 0, look.px(1));
}

void draw_dashed(ImDrawList& list, ImVec2 from, ImVec2 to, ImU32 colour, float pen, float dash) {
    const float length = std::hypot(to.x - from.x, to.y - from.y);
    for (float at = 0; at < length; at += 2 * dash) {
        const float a = at / length, b = std::min(at + dash, length) / length;
        list.AddLine({from.x + a * (to.x - from.x), from.y + a * (to.y - from.y)},
                     {from.x + b * (to.x - from.x), from.y + b * (to.y - from.y)}, colour, pen);
    }
}

void draw_fits(const Look& look, ImDrawList& list, const Frame& frame) {
    const Theme& theme = *look.theme;
    if (const auto& band = frame.view->band) {
        const float top = frame.y(band->middle + band->sure);
        const float bottom = std::max(frame.y(band->middle - band->sure), top + look.px(2));
        list.AddRectFilled({frame.low.x, top}, {frame.high.x, bottom}, ink(theme.accent, 0.18F));
        const float y = frame.y(band->middle);
        list.AddLine({frame.low.x, y}, {frame.high.x, y}, ink(theme.accent), look.px(1.5F));
    }
    if (const auto& slope = frame.view->slope) {
        const auto at = [&](double x) {
            return ImVec2{frame.x(x), frame.y(slope->at_zero + slope->per_unit * x)};
        };
        draw_dashed(list, at(frame.view->x.low), at(frame.view->x.high), ink(theme.warn),
                    look.px(2), look.px(7));
    }
}

void draw_point(const Look& look, ImDrawList& list, const Frame& frame,
                const DeviationPoint& point) {
    const Theme& theme = *look.theme;
    const Colour colour = point.is_now ? theme.accent : theme.text;
    const float x = frame.x(point.at), y = frame.y(point.off), cap = look.px(5);
    const float top = frame.y(point.off + point.sure), bottom = frame.y(point.off - point.sure);
    const float pen = look.px(point.is_now ? 2 : 1.5F);
    list.AddLine({x, top}, {x, bottom}, ink(colour), pen);
    list.AddLine({x - cap, top}, {x + cap, top}, ink(colour), pen);
    list.AddLine({x - cap, bottom}, {x + cap, bottom}, ink(colour), pen);
    draw_mark(list, Mark::disc, x, y, look.px(6.5F), theme.field, theme.field);
    draw_mark(list, point.is_now ? Mark::diamond : Mark::disc, x, y, look.px(5), colour,
              theme.field);
}

// What the lines mean, below the plot, each with a piece of itself.
void draw_legend(const Look& look, ImDrawList& list, const Frame& frame, float y) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    float x = frame.low.x;
    const float sample = look.px(22), middle = y + font->FontSize / 2;
    if (const auto& band = frame.view->band; band && !band->name.empty()) {
        list.AddRectFilled({x, middle - look.px(5)}, {x + sample, middle + look.px(5)},
                           ink(theme.accent, 0.18F));
        list.AddLine({x, middle}, {x + sample, middle}, ink(theme.accent), look.px(1.5F));
        put(list, font, {x + sample + look.px(6), y}, ink(theme.text), band->name);
        x += sample + extent(font, band->name).x + look.px(22);
    }
    if (const auto& slope = frame.view->slope; slope && !slope->name.empty()) {
        draw_dashed(list, {x, middle}, {x + sample, middle}, ink(theme.warn), look.px(2),
                    look.px(6));
        put(list, font, {x + sample + look.px(6), y}, ink(theme.text), slope->name);
    }
}

}  // namespace

void deviation_plot(const Look& look, const char* id, const DeviationPlotView& view, float width,
                    float height) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(id, {std::max(width, 1.0F), std::max(height, 1.0F)});
    note_item(look, id, view.points.empty() ? view.empty : view.y_label);
    const bool hovered = ImGui::IsItemHovered();
    float left = 0;
    for (const Tick& tick : ticks(view.y, 6)) left = std::max(left, extent(font, tick.label).x);
    const Frame frame{
        {corner.x + left + look.px(12), corner.y + font->FontSize + look.px(10)},
        {corner.x + width - look.px(8), corner.y + height - 2 * font->FontSize - look.px(14)},
        &view};
    if (frame.high.x - frame.low.x < look.px(60) || frame.high.y - frame.low.y < look.px(40)) {
        return;  // no room for anything that could be read
    }
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (view.points.empty()) {
        list.AddRectFilled({corner.x, corner.y}, {corner.x + width, corner.y + height},
                           ink(theme.field), look.px(6));
        const std::string lines = in_lines(font, view.empty, width * 0.8F);
        const ImVec2 size = extent(font, lines);
        put(list, font, {corner.x + (width - size.x) / 2, corner.y + (height - size.y) / 2},
            ink(theme.muted), lines);
        return;
    }
    put(list, font, {corner.x, corner.y}, ink(theme.muted), view.y_label);
    draw_axes(look, list, frame);
    const float below = frame.high.y + font->FontSize + look.px(9);
    draw_legend(look, list, frame, below);
    const float label = extent(font, view.x_label).x;
    put(list, font, {frame.high.x - label, below}, ink(theme.muted), view.x_label);
    {
        const ClipScope clip(list, frame.low, frame.high);
        draw_fits(look, list, frame);
        for (const DeviationPoint& point : view.points) {
            if (!point.is_now) draw_point(look, list, frame, point);
        }
        for (const DeviationPoint& point : view.points) {
            if (point.is_now) draw_point(look, list, frame, point);
        }
    }
    if (!hovered) return;
    const ImVec2 mouse = ImGui::GetMousePos();
    for (const DeviationPoint& point : view.points) {
        const float away = std::hypot(frame.x(point.at) - mouse.x, frame.y(point.off) - mouse.y);
        if (away > look.px(14)) continue;
        const TooltipScope tip;
        ImGui::TextUnformatted(point.readout.c_str());
        return;
    }
}

}  // namespace coilbook::bench
