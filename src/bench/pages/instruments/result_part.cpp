// What a check tells, the one being made or the last one kept: sentences and a picture.
#include <imgui.h>

#include <algorithm>

#include "bench/pages/instruments/instruments_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/plot.h"
#include "bench/widgets/scope.h"

namespace coilbook::bench::instruments_page {

void draw_result(const Look& look, const Place& at, float width, float height) {
    const ResultView& result = at.view.result;
    const ImVec2 start = ImGui::GetCursorPos();
    const bool checking = at.view.task == Task::check;
    const float gap = look.px(12), decision = checking ? look.px(50) + gap : 0;
    {
        const Card card(look, "result", width, height - decision, result.title);
        ImGui::Spacing();
        bool is_first = true;
        for (const Sentence& each : result.sentences) {
            if (is_first) {
                wrapped(look, look.fonts.strong, each.words, each.tone);
                note_item(look, "headline", each.words);
                help_on_item(look, each.help);
            } else {
                draw_sentence(look, "result", each);
            }
            is_first = false;
        }
        if (result.plot.points.empty() && result.plot.empty.empty()) return;
        ImGui::Dummy({1, look.px(4)});
        const ImVec2 room = ImGui::GetContentRegionAvail();
        const float high = std::clamp(room.y, look.px(190), std::max(room.x * 0.85F, look.px(190)));
        plot(look, "deviations", result.plot, at.form.window, room.x, high);
    }
    if (!checking) return;
    ImGui::SetCursorPos({start.x, start.y + height - look.px(50)});
    const float side = look.px(150), between = look.px(10);
    if (button(look, {"save", "Save the check", "Ctrl Enter"}, Weight::main, width - side - between,
               look.px(50), at.view.check.can_save)) {
        perform("save", at);
    }
    ImGui::SameLine(0, between);
    if (button(look, {"throw away", "Throw away", {}}, Weight::plain, side, look.px(50),
               at.view.check.is_begun)) {
        perform("throw away", at);
    }
}

}  // namespace coilbook::bench::instruments_page
