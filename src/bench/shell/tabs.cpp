#include "bench/shell/tabs.h"

#include <imgui.h>

#include <string>

#include "bench/widgets/button.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

float width_of(const Look& look, std::string_view name) {
    return extent(look.fonts.strong, name).x + look.px(22);
}

// A name; the one that is shown stands on a bar in the accent's colour and is written stronger.
bool draw_tab(const Look& look, const Tab& tab, float height) {
    const auto& [name, key, is_shown] = tab;
    const Theme& theme = *look.theme;
    const float width = width_of(look, name);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    const bool clicked =
        ImGui::InvisibleButton(std::string(name).c_str(), {width, height}) && !is_shown;
    note_item(look, std::string("page ").append(name), is_shown ? "shown" : "");
    const bool hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (hovered && !is_shown) list.AddRectFilled(low, high, ink(theme.raised), look.px(7));
    ImFont* font = is_shown ? look.fonts.strong : look.fonts.text;
    const ImVec2 size = extent(font, name);
    put(list, font, {low.x + (width - size.x) / 2, low.y + (height - size.y) / 2}, ink(theme.text),
        name);
    if (is_shown) {
        list.AddRectFilled({low.x + look.px(8), high.y - look.px(3)}, {high.x - look.px(8), high.y},
                           ink(theme.accent), look.px(1.5F));
    }
    if (hovered) {
        const TooltipScope tip;
        ImGui::TextUnformatted(key.data(), key.data() + key.size());
    }
    return clicked;
}

}  // namespace

TabsDrawn draw_tabs(const Look& look, std::span<const Tab> tabs, float width, float height) {
    TabsDrawn drawn;
    const ImVec2 start = ImGui::GetCursorPos();
    const float all = look.px(112), gap = look.px(4);
    float wanted = all + look.px(16);
    for (const Tab& tab : tabs) wanted += width_of(look, tab.name) + gap;
    const bool only_shown = wanted > width;
    float x = start.x;
    for (std::size_t at = 0; at < tabs.size(); ++at) {
        if (only_shown && !tabs[at].is_shown) continue;
        ImGui::SetCursorPos({x, start.y});
        if (draw_tab(look, tabs[at], height)) drawn.chosen = at;
        x += width_of(look, tabs[at].name) + gap;
    }
    if (x + all <= start.x + width) {
        ImGui::SetCursorPos({x, start.y});
        if (button(look, {"list all", "Actions", "F1"}, Weight::plain, all, height)) {
            drawn.list_all = true;
        }
        x += all + look.px(12);
    }
    ImGui::SetCursorPos({x, start.y});
    drawn.width = x - start.x;
    return drawn;
}

}  // namespace coilbook::bench
