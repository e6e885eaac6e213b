#include "bench/widgets/bar.h"

#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {

bool probability_bar(const Look& look, const BarText& bar) {
    const Theme& theme = *look.theme;
    ImFont* font = bar.leading ? look.fonts.strong : look.fonts.text;
    const float width = ImGui::GetContentRegionAvail().x;
    const float height = font->FontSize + look.px(8);
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    const ImVec2 cursor = ImGui::GetCursorPos();
    const bool clicked = ImGui::InvisibleButton(std::string(bar.id).c_str(), {width, height});
    note_item(look, "bar " + std::string(bar.id), bar.amount);
    help_on_item(look, bar.help);
    const ImVec2 after = ImGui::GetCursorPos();

    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered()) {
        list.AddRectFilled({low.x - look.px(6), low.y}, {high.x + look.px(6), high.y},
                           ink(theme.page), look.px(6));
    }
    if (bar.chosen) {
        list.AddRect({low.x - look.px(6), low.y}, {high.x + look.px(6), high.y}, ink(theme.accent),
                     look.px(6), 0, look.px(1.5F));
    }
    const float middle = (low.y + high.y) / 2, radius = look.px(5.5F);
    draw_mark(list, bar.mark, low.x + radius, middle, radius, bar.colour, theme.card);

    const float amount = extent(font, "> 99 %").x;
    const float track = std::clamp(width * 0.36F, look.px(90), look.px(260));
    ImGui::SetCursorPos({cursor.x + look.px(20), cursor.y + look.px(4)});
    line_within(look, font, width - look.px(32) - track - amount, bar.name);
    ImGui::SetCursorPos({cursor.x, cursor.y + look.px(4)});
    line_ending_at(look, font, cursor.x + width, bar.amount);

    const float thick = look.px(10);
    const ImVec2 from{high.x - amount - look.px(8) - track, middle - thick / 2};
    const ImVec2 to{from.x + track, middle + thick / 2};
    list.AddRectFilled(from, to, ink(theme.raised), thick / 2);
    const float share = static_cast<float>(std::clamp(bar.share, 0.0, 1.0));
    if (share > 0) {
        const float length = std::max(share * track, thick);  // never less than a dot
        list.AddRectFilled(from, {from.x + length, to.y}, ink(bar.colour), thick / 2);
    }
    ImGui::SetCursorPos(after);
    return clicked;
}

}  // namespace coilbook::bench
