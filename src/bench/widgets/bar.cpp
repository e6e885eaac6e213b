#include "bench/widgets/bar.h"

#include <imgui.h>

#include <algorithm>

#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench {

void probability_bar(const Look& look, const BarText& bar, float width) {
    const Theme& theme = *look.theme;
    ImFont* font = bar.leading ? look.fonts.strong : look.fonts.text;
    if (width <= 0) width = ImGui::GetContentRegionAvail().x;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float left = ImGui::GetCursorPosX();
    ImDrawList& list = *ImGui::GetWindowDrawList();

    const float radius = look.px(5.5F);
    draw_mark(list, bar.mark, start.x + radius, start.y + font->FontSize / 2, radius, bar.colour,
              theme.card);
    const float amount = font->CalcTextSizeA(font->FontSize, 1e6F, 0, bar.amount.data(),
                                             bar.amount.data() + bar.amount.size())
                             .x;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, {look.px(8), look.px(3)});
    ImGui::SetCursorPosX(left + look.px(20));
    line_within(look, font, width - look.px(28) - amount, bar.name);
    ImGui::SameLine();
    line_ending_at(look, font, left + width, bar.amount);

    const ImVec2 low{start.x, ImGui::GetCursorScreenPos().y};
    const float height = look.px(9);
    const float share = static_cast<float>(std::clamp(bar.share, 0.0, 1.0));
    list.AddRectFilled(low, {low.x + width, low.y + height}, ink(theme.raised), height / 2);
    if (share > 0) {
        const float length = std::max(share * width, height);  // never less than a dot
        list.AddRectFilled(low, {low.x + length, low.y + height}, ink(bar.colour), height / 2);
    }
    ImGui::Dummy({width, height + look.px(3)});
}

}  // namespace coilbook::bench
