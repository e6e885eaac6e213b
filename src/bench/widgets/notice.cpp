#include "bench/widgets/notice.h"

#include <imgui.h>

#include <algorithm>

#include "bench/widgets/marks.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {

bool failure_box(const Look& look, const std::string& words) {
    const Theme& theme = *look.theme;
    const float close_width = look.px(110);
    const float width = ImGui::GetContentRegionAvail().x;
    const float inside = width - close_width - look.px(80);
    const std::string lines = in_lines(look.fonts.text, words, inside);
    const ImVec2 size = extent(look.fonts.text, lines);
    const float height = std::max(size.y + look.px(24), look.px(60));
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ColourScope edge(ImGuiCol_Border, theme.bad);
    const ChildScope box("failure", {width, height}, true, ImGuiWindowFlags_NoScrollbar);
    draw_mark(*ImGui::GetWindowDrawList(), Mark::warning, low.x + look.px(28), low.y + height / 2,
              look.px(11), theme.bad, theme.card);
    ImGui::SetCursorPos({look.px(54), (height - size.y) / 2});
    line(look, look.fonts.text, lines);
    note_item(look, "failure", words);
    ImGui::SetCursorPos({width - close_width - look.px(10), (height - look.px(40)) / 2});
    return button(look, {"close failure", "Close", "F8"}, Weight::plain, close_width, look.px(40));
}

float hint_bar_height(const Look& look) {
    return look.fonts.small->FontSize + look.px(18);
}

void hint_bar(const Look& look, std::span<const KeyHint> hints, const std::string& message) {
    const float right = ImGui::GetWindowContentRegionMax().x;
    const float wide = std::min(extent(look.fonts.small, message).x, right * 0.6F);
    const float room = right - (message.empty() ? 0 : wide + look.px(16));
    for (const KeyHint& hint : hints) {
        const float next = extent(look.fonts.small, hint.key).x +
                           extent(look.fonts.small, hint.does).x + look.px(28);
        if (ImGui::GetCursorPosX() + next > room) break;
        key_hint(look, hint);
        ImGui::SameLine(0, look.px(6));
    }
    if (message.empty()) return;
    ImGui::SetCursorPos({right - wide, ImGui::GetCursorPosY() + look.px(3)});
    line_within(look, look.fonts.small, wide + look.px(1), message, Tone::good);
    note_item(look, "message", message);
}

}  // namespace coilbook::bench
