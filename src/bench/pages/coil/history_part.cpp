// What was done to it, the last first.
#include <imgui.h>

#include "bench/pages/coil/coil_screen.h"
#include "bench/widgets/card.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::coil_page {

void draw_history(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "history", width, height, "History", "times are UTC");
    if (!at.view.has_coil) return;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    const float when = look.px(132);
    for (const auto& row : at.view.history) {
        const float left = ImGui::GetCursorPosX(), y = ImGui::GetCursorPosY();
        line(look, look.fonts.small, row.when, Tone::muted);
        ImGui::SetCursorPos({left + when, y});
        const GroupScope group;
        wrapped(look, look.fonts.small, row.counts ? row.what : row.what + " (undone)",
                row.counts ? Tone::normal : Tone::muted);
        note_item(look, "deed", row.what);
        if (!row.who.empty()) wrapped(look, look.fonts.small, row.who, Tone::muted);
    }
}

}  // namespace coilbook::bench::coil_page
