#include "bench/widgets/bar_plot.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "bench/widgets/even_axis.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/screen_pen.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {
namespace {

constexpr float row_height = 34, bar_share = 0.55F;

// How the kinds look: full, hatched, an outline.
void draw_piece(Pen& pen, const PlotLook& look, const Rectangle& box, std::size_t kind) {
    const Ink ink{look.series(kind)};
    const std::array<Place, 4> edge{
        box.low, {box.high.x, box.low.y}, box.high, {box.low.x, box.high.y}};
    if (kind == 0) pen.fill_box(box, ink);
    if (kind == 1) {
        pen.fill_box(box, {look.series(kind), 0.25F});
        const PenClip clip(pen, box);
        for (float x = box.low.x - box.height(); x < box.high.x; x += look.px(6)) {
            const Place foot{x, box.high.y}, head{x + box.height(), box.low.y};
            pen.stroke(std::array<Place, 2>{foot, head}, {ink, look.px(1.5F)});
        }
    }
    pen.stroke(edge, {ink, look.px(1.5F), Stroke::solid, true});
}

void draw_legend(Pen& pen, const PlotLook& look, const BarPlotView& view, Place at) {
    const float high = pen.extent(Face::small, "0").y;
    for (std::size_t kind = 0; kind < view.kinds.size(); ++kind) {
        draw_piece(pen, look, {{at.x, at.y + look.px(2)}, {at.x + look.px(28), at.y + high}}, kind);
        pen.write(Face::small, {at.x + look.px(34), at.y}, {look.theme.muted}, view.kinds[kind]);
        at.x += look.px(34 + 18) + pen.extent(Face::small, view.kinds[kind]).x;
    }
}

// As much of it as fits into `room` pixels.
std::string fitted(const Pen& pen, std::string text, float room) {
    if (pen.extent(Face::text, text).x <= room) return text;
    while (!text.empty() && pen.extent(Face::text, text + "…").x > room) {
        const auto is_middle = [](char c) {
            return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
        };
        while (is_middle(text.back())) text.pop_back();
        text.pop_back();
    }
    return text + "…";
}

// Whole numbers alone, from zero on.
void draw_axis(Pen& pen, const PlotLook& look, const Axis& axis, const Rectangle& inside) {
    const int wanted = std::clamp(static_cast<int>(inside.width() / look.px(70)), 2, 10);
    for (const Tick& tick : even_ticks(axis, wanted)) {
        if (tick.value != std::round(tick.value)) continue;
        const float x =
            std::round(inside.low.x + static_cast<float>(axis.share(tick.value)) * inside.width());
        pen.stroke(std::array<Place, 2>{{{x, inside.low.y}, {x, inside.high.y}}},
                   {{tick.value == 0 ? look.theme.field_border : look.theme.grid}, look.px(1)});
        const auto label = fmt::format("{:.0f}", tick.value);
        pen.write(Face::small,
                  {x - pen.extent(Face::small, label).x / 2, inside.high.y + look.px(4)},
                  {look.theme.muted}, label);
    }
}

}  // namespace

int BarRow::sum() const {
    return std::accumulate(counts.begin(), counts.end(), 0);
}

std::string BarPlotView::readout(const BarRow& row) const {
    std::string words;
    for (std::size_t kind = 0; kind < kinds.size(); ++kind) {
        if (row.counts[kind] == 0) continue;
        words += fmt::format("{}{} {}", words.empty() ? "" : ", ", row.counts[kind], kinds[kind]);
    }
    return row.name + ": " + words;
}

float height_of(const BarPlotView& view, const PlotLook& look, float line_height) {
    const float title = view.title.empty() ? 0 : line_height + look.px(14);
    return title + 2 * line_height + look.px(22) +
           look.px(row_height) * static_cast<float>(std::max<std::size_t>(view.rows.size(), 1));
}

std::vector<Rectangle> draw_bars(Pen& pen, const PlotLook& look, const BarPlotView& view,
                                 const Rectangle& box) {
    const Theme& theme = look.theme;
    const float line_height = pen.extent(Face::small, "0").y;
    float top = box.low.y;
    if (!view.title.empty()) {
        pen.write(Face::strong, box.low, {theme.text}, view.title);
        top += line_height + look.px(14);
    }
    draw_legend(pen, look, view, {box.low.x, top});
    const float names = std::min(look.px(220), box.width() * 0.35F);
    const Rectangle inside{{box.low.x + names + look.px(12), top + line_height + look.px(10)},
                           {box.high.x - look.px(48), box.high.y - line_height - look.px(8)}};
    if (view.rows.empty()) {
        pen.write(Face::text, {box.low.x, inside.low.y}, {theme.muted}, view.empty);
        return {};
    }
    int most = 1;
    for (const BarRow& row : view.rows) most = std::max(most, row.sum());
    const Axis axis{0, static_cast<double>(most), Spacing::even};
    const float each =
        std::min(look.px(row_height), inside.height() / static_cast<float>(view.rows.size()));
    const float foot = inside.low.y + each * static_cast<float>(view.rows.size());
    draw_axis(pen, look, axis, {inside.low, {inside.high.x, foot}});
    std::vector<Rectangle> places;
    for (const BarRow& row : view.rows) {
        const float y = inside.low.y + each * static_cast<float>(places.size());
        places.push_back({{box.low.x, y}, {box.high.x, y + each}});
        const float middle = y + each / 2, half = each * bar_share / 2;
        const std::string name = fitted(pen, row.name, names);
        const Place size = pen.extent(Face::text, name);
        pen.write(Face::text, {box.low.x + names - size.x, middle - size.y / 2}, {theme.text},
                  name);
        float x = inside.low.x;
        for (std::size_t kind = 0; kind < view.kinds.size(); ++kind) {
            const float wide =
                static_cast<float>(row.counts[kind]) / static_cast<float>(most) * inside.width();
            if (wide <= 0) continue;
            draw_piece(pen, look, {{x, middle - half}, {x + wide, middle + half}}, kind);
            x += wide;
        }
        const std::string count = std::to_string(row.sum());
        pen.write(Face::strong, {x + look.px(8), middle - pen.extent(Face::strong, count).y / 2},
                  {theme.text}, count);
    }
    return places;
}

void bar_plot(const Look& look, const char* id, const BarPlotView& view, float width,
              float height) {
    const ChildScope scrolled(id, {width, height}, false);
    const PlotLook plot_look{*look.theme, look.scale};
    ScreenPen pen(*ImGui::GetWindowDrawList(), look.fonts);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float wide = ImGui::GetContentRegionAvail().x;
    const float high = height_of(view, plot_look, pen.extent(Face::small, "0").y);
    const auto rows =
        draw_bars(pen, plot_look, view, {{corner.x, corner.y}, {corner.x + wide, corner.y + high}});
    if (rows.empty()) {
        ImGui::Dummy({wide, high});
        return note_item(look, "nothing", view.empty);
    }
    for (std::size_t at = 0; at < rows.size(); ++at) {
        ImGui::SetCursorScreenPos({rows[at].low.x, rows[at].low.y});
        ImGui::Dummy({rows[at].width(), rows[at].height()});
        note_item(look, "bar " + view.rows[at].name, std::to_string(view.rows[at].sum()));
        if (!ImGui::IsItemHovered()) continue;
        const TooltipScope tip;
        ImGui::TextUnformatted(view.readout(view.rows[at]).c_str());
    }
    ImGui::SetCursorScreenPos({corner.x, corner.y + high - look.px(1)});
    ImGui::Dummy({1, look.px(1)});  // the labels of the axis, too, can be scrolled to
}

}  // namespace coilbook::bench
