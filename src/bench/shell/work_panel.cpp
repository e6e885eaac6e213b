#include "bench/shell/work_panel.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "bench/widgets/button.h"
#include "bench/widgets/ink.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {
namespace {

void draw_part(const Look& look, double part) {
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = look.px(14);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 high{low.x + width, low.y + height};
    list.AddRectFilled(low, high, ink(look.theme->field), look.px(4));
    const float done = low.x + width * static_cast<float>(std::clamp(part, 0.0, 1.0));
    if (part > 0) list.AddRectFilled(low, {done, high.y}, ink(look.theme->accent), look.px(4));
    list.AddRect(low, high, ink(look.theme->field_border), look.px(4), 0, look.px(1.5F));
    ImGui::Dummy({width, height});
}

// A pane over everything that takes the mouse, and dims what is below.
void cover(const Look& look, ImVec2 room, ImGuiWindowFlags flags, float opacity) {
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(room);
    ImGui::SetNextWindowFocus();
    const ColourScope ground(ImGuiCol_WindowBg, look.theme->page);
    ImGui::SetNextWindowBgAlpha(opacity);
    ImGui::Begin("work cover", nullptr, flags);
    ImGui::End();
}

std::string how_far(const WorkPanel& work) {
    if (work.is_breaking_off) return "Breaking off …";
    const std::string since = fmt::format("{} s", work.seconds);
    if (work.part >= 1.0) return "Writing it down, " + since;
    return work.part > 0 ? fmt::format("{:.0f} %, {}", 100 * work.part, since) : since;
}

}  // namespace

bool draw_work_panel(const Look& look, const WorkPanel& work) {
    const ImVec2 room = ImGui::GetIO().DisplaySize;
    constexpr auto flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                           ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav;
    cover(look, room, flags, work.hides_all ? 1.0F : 0.6F);
    const float width = std::min(look.px(520), room.x - look.px(32)), height = look.px(192);
    ImGui::SetNextWindowPos({(room.x - width) / 2, (room.y - height) / 3});
    ImGui::SetNextWindowSize({width, height});
    const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(20), look.px(16)});
    const ColourScope ground(ImGuiCol_WindowBg, look.theme->card);
    const ColourScope edge(ImGuiCol_Border, look.theme->accent);
    const StyleScope line_width(ImGuiStyleVar_WindowBorderSize, look.px(2));
    ImGui::SetNextWindowFocus();
    ImGui::Begin("work", nullptr, flags);
    line_within(look, look.fonts.strong, ImGui::GetContentRegionAvail().x, work.words);
    note_item(look, "work", work.words);
    draw_part(look, work.part);
    line(look, look.fonts.text, how_far(work));
    wrapped(look, look.fonts.small,
            "What you type meanwhile is kept, and entered when this is over. Broken off, "
            "everything stays as it was.",
            Tone::muted);
    const bool clicked =
        button(look, {"break off", "Break off", "Esc"}, Weight::plain,
               ImGui::GetContentRegionAvail().x, look.px(44), !work.is_breaking_off);
    ImGui::End();
    return clicked || pressed(plain(key::escape));
}

}  // namespace coilbook::bench
