#include "bench/pages/library/library_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <span>

#include "bench/pages/library/library_actions.h"
#include "bench/widgets/field.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"

namespace coilbook::bench::library_page {
namespace {

// From left to right: the list, the map, and what is known. Where the window is narrow the map
// stands above what is known.
void draw_parts(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                float width, float height) {
    const float gap = look.px(12);
    const bool is_wide = width >= look.px(1720);
    const float list = look.px(is_wide ? 480 : 424);
    const ImVec2 start = ImGui::GetCursorPos();
    draw_list(look, view, form, outbox, list, height);
    const float rest = width - list - gap;
    const float x = start.x + list + gap;
    if (is_wide) {
        const float side = look.px(460), score = look.px(330);
        ImGui::SetCursorPos({x, start.y});
        draw_map(look, view, form, outbox, rest - side - gap, height);
        ImGui::SetCursorPos({x + rest - side, start.y});
        if (view.task) return draw_task(look, view, form, outbox, side, height);
        draw_about(look, view, form, outbox, side, height - score - gap);
        ImGui::SetCursorPos({x + rest - side, start.y + height - score});
        draw_score(look, view.score, side, score);
        return;
    }
    const float below = view.task ? std::clamp(height * 0.46F, look.px(270), look.px(420))
                                  : std::clamp(height * 0.40F, look.px(230), look.px(360));
    const float score = std::clamp(rest * 0.42F, look.px(300), look.px(420));
    ImGui::SetCursorPos({x, start.y});
    draw_map(look, view, form, outbox, rest, height - below - gap);
    ImGui::SetCursorPos({x, start.y + height - below});
    if (view.task) return draw_task(look, view, form, outbox, rest, below);
    draw_about(look, view, form, outbox, rest - score - gap, below);
    ImGui::SetCursorPos({x + rest - score, start.y + height - below});
    draw_score(look, view.score, score, below);
}

std::span<const KeyHint> hints_of(const View& view) {
    static constexpr std::array look{
        KeyHint{"↑ ↓", "class"},     KeyHint{"Ctrl F", "find"},
        KeyHint{"F3", "zoom to it"}, KeyHint{"Alt Page ↑ ↓", "closer, further"},
        KeyHint{"Ctrl E", "change"}, KeyHint{"Ctrl N", "add"},
        KeyHint{"Ctrl D", "split"},  KeyHint{"Ctrl J", "join"},
        KeyHint{"Ctrl Z", "undo"},   KeyHint{"F1", "everything"},
    };
    static constexpr std::array change{
        KeyHint{"Enter", "next field"},
        KeyHint{"Ctrl Enter", "do it"},
        KeyHint{"Esc", "leave it"},
        KeyHint{"Alt Home", "whole map"},
        KeyHint{"Alt Page ↑ ↓", "closer, further"},
        KeyHint{"F1", "everything"},
    };
    return view.task ? std::span<const KeyHint>(change) : look;
}

}  // namespace

void draw(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
          bool is_covered) {
    if (!is_covered) watch_keys(view, form, outbox);
    if (!view.failure.empty() && failure_box(look, view.failure)) outbox.post(CloseFailure{});

    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float hints = hint_bar_height(look);
    const float height = std::max(room.y - hints, look.px(520));
    const float width = std::max(room.x, look.px(1140));
    const float top = ImGui::GetCursorPosY();
    {
        // The page scrolls as a whole where the window is smaller than it can be.
        const ColourScope see_through(ImGuiCol_ChildBg, look.theme->page);
        const StyleScope no_edge(ImGuiStyleVar_ChildBorderSize, 0.0F);
        const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
        const ChildScope page("library", {room.x, room.y - hints}, false,
                              ImGuiWindowFlags_HorizontalScrollbar);
        const ColourScope cards(ImGuiCol_ChildBg, look.theme->card);
        const StyleScope edge(ImGuiStyleVar_ChildBorderSize, look.px(1));
        const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(16), look.px(14)});
        draw_parts(look, view, form, outbox, width, height);
    }
    ImGui::SetCursorPosY(top + room.y - hints + look.px(12));
    hint_bar(look, hints_of(view), view.message);
    if (!is_covered && has_lost_keyboard(form.frames_to_focus)) {
        form.frames_to_focus = frames_to_take_focus;
    }
}

}  // namespace coilbook::bench::library_page
