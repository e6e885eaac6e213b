#include "bench/widgets/plot.h"

#include <imgui.h>
#include <imgui_internal.h>  // to keep the wheel from what is around, and the layout as it is

#include <algorithm>
#include <array>
#include <cmath>

#include "bench/widgets/button.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/plot_hit.h"
#include "bench/widgets/plot_picture.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/screen_pen.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

// What happened at the item that was drawn last.
struct Mouse {
    Place at;
    bool is_over = false;
    bool was_clicked = false;  // without moving
    bool was_clicked_twice = false;
};

Mouse mouse_on_item(const Look& look) {
    const ImGuiIO& io = ImGui::GetIO();
    Mouse mouse;
    mouse.at = {io.MousePos.x, io.MousePos.y};
    mouse.is_over = ImGui::IsItemHovered();
    mouse.was_clicked_twice = mouse.is_over && ImGui::IsMouseDoubleClicked(0);
    // A quick hand moves and lets go within one frame, which counts as a drag all the same.
    const ImVec2 from = io.MouseClickedPos[0];
    const float far = std::hypot(mouse.at.x - from.x, mouse.at.y - from.y);
    const float moved = look.px(4) * look.px(4);
    mouse.was_clicked = ImGui::IsItemDeactivated() && mouse.is_over &&
                        io.MouseDragMaxDistanceSqr[0] < moved && far < look.px(4) &&
                        !mouse.was_clicked_twice;
    return mouse;
}

void read_out(const Look& look, const PlotHit& hit) {
    const TooltipScope tip;
    const StyleScope line_gap(ImGuiStyleVar_ItemSpacing, {look.px(8), look.px(4)});
    ImGui::TextUnformatted(hit.readout.c_str());
}

// Wheel, drag and double click, by the frame as it was drawn.
void look_closer(const Look& look, const Mouse& mouse, const PlotFrame& frame,
                 const PlotWindow& whole, std::optional<PlotWindow>& window) {
    const ImGuiIO& io = ImGui::GetIO();
    const Rectangle& inside = frame.inside;
    PlotWindow shown = frame.shown;
    if (mouse.is_over && io.MouseWheel != 0.0F) {
        const double share_x = (mouse.at.x - inside.low.x) / inside.width();
        const double share_y = (inside.high.y - mouse.at.y) / inside.height();
        shown = zoomed(shown, whole, std::clamp(share_x, 0.0, 1.0), std::clamp(share_y, 0.0, 1.0),
                       std::pow(1.25, static_cast<double>(io.MouseWheel)));
        window = unless_whole(shown, whole);
    }
    if (ImGui::IsItemActive() && io.MouseDragMaxDistanceSqr[0] >= look.px(4) * look.px(4)) {
        shown = moved(shown, whole, -io.MouseDelta.x / inside.width(),
                      io.MouseDelta.y / inside.height());
        window = unless_whole(shown, whole);
    }
    if (mouse.was_clicked_twice) window.reset();
}

// Back to the whole, in the corner of the plot that was drawn last.
void offer_whole(const Look& look, ImVec2 corner, float width, std::optional<PlotWindow>& window) {
    if (!window) return;
    ImGuiWindow& around = *ImGui::GetCurrentWindow();
    const ImVec2 after = around.DC.CursorPos;
    const std::string keys = name_of(alt(key::home));
    const float wide =
        extent(look.fonts.text, "Whole plot").x + extent(look.fonts.small, keys).x + look.px(42);
    ImGui::SetCursorScreenPos({corner.x + width - wide - look.px(14), corner.y + look.px(12)});
    ImGui::SetItemAllowOverlap();
    if (button(look, {"whole plot", "Whole plot", keys}, Weight::plain, wide, look.px(36))) {
        window.reset();
    }
    around.DC.CursorPos = after;  // SetCursorPos would make the card longer than it is
}

void mark(const Look& look, Pen& pen, const PlotFrame& frame, const PlotHit& found) {
    if (found.is_upright) {
        const float x = std::round(found.at.front().x);
        pen.stroke(std::array<Place, 2>{{{x, frame.inside.low.y}, {x, frame.inside.high.y}}},
                   {{look.theme->muted}, look.px(1)});
    }
    for (const Place at : found.at) pen.ring(at, look.px(7), {look.theme->text}, look.px(1.5F));
}

}  // namespace

PlotDone plot(const Look& look, const char* id, const PlotView& view,
              std::optional<PlotWindow>& window, float width, float height) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton(id, {std::max(width, 1.0F), std::max(height, 1.0F)});
    ImGui::SetItemUsingMouseWheel();
    note_item(look, id, view.has_nothing() ? view.empty : view.x_label);
    const Mouse mouse = mouse_on_item(look);
    const PlotWindow whole{view.x, view.y};
    if (window) window = unless_whole(*window, whole);
    const PlotWindow shown = window.value_or(whole);

    ScreenPen pen(*ImGui::GetWindowDrawList(), look.fonts);
    const PlotLook plot_look{*look.theme, look.scale};
    const auto frame = draw_plot(pen, plot_look, view, shown,
                                 {{corner.x, corner.y}, {corner.x + width, corner.y + height}});
    PlotDone done;
    if (!frame) return done;
    const bool is_active = ImGui::IsItemActive();
    look_closer(look, mouse, *frame, whole, window);
    offer_whole(look, corner, width, window);
    if (!mouse.is_over) return done;
    const auto found = hit(view, *frame, mouse.at, plot_look);
    if (!found) return done;
    if (mouse.was_clicked) done.clicked = found->key;
    mark(look, pen, *frame, *found);
    if (!is_active || mouse.was_clicked) read_out(look, *found);
    return done;
}

}  // namespace coilbook::bench
