// What is wrong with the plan, what would help, and the cautions; or what is being typed.
#include <imgui.h>

#include "bench/pages/day/day_actions.h"
#include "bench/pages/day/day_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/entry_form.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::day_page {
namespace {

void draw_entry(const Look& look, Desk& desk) {
    const float gap = look.px(8);
    {
        const ChildScope fields("fields", {0, ImGui::GetContentRegionAvail().y - look.px(44) - gap},
                                false);
        if (draw_entry_form(look, *desk.form().entry)) desk.outbox().post(SaveEntry{});
    }
    const float half = (ImGui::GetContentRegionAvail().x - gap) / 2;
    if (button(look, {"save", "Save", "Ctrl Enter"}, Weight::main, half)) perform("save", desk);
    ImGui::SameLine(0, gap);
    if (button(look, {"back", "Back", "Esc"}, Weight::plain, half)) perform("back", desk);
}

// A sentence with a mark before it.
void draw_marked(const Look& look, Mark mark, Tone tone, const std::string& words, ImFont* font) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_mark(*ImGui::GetWindowDrawList(), mark, at.x + look.px(8), at.y + font->FontSize / 2,
              look.px(6.5F), colour_of(tone, *look.theme), look.theme->card);
    ImGui::SetCursorScreenPos({at.x + look.px(24), at.y});
    wrapped(look, font, words);
    note_item(look, "problem", words);
}

}  // namespace

void draw_side(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "side", width, height);
    if (desk.form().entry) return draw_entry(look, desk);
    const float inside = ImGui::GetContentRegionAvail().x, gap = look.px(8);
    line(look, look.fonts.strong, view.problems_title);
    note_item(look, "problems", view.problems_title);
    const float buttons = (look.px(44) + gap) * (view.fill_label.empty() ? 1.0F : 2.0F);
    {
        const ChildScope list("problems", {0, ImGui::GetContentRegionAvail().y - buttons}, false);
        for (const ProblemView& each : view.problems) {
            draw_marked(look, Mark::warning, each.is_of_this_boat ? Tone::bad : Tone::warn,
                        each.words, look.fonts.text);
        }
        ImGui::Dummy({1, look.px(6)});
        line(look, look.fonts.strong, "Take care");
        for (const auto& caution : view.cautions) wrapped(look, look.fonts.small, caution);
    }
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{gap, gap});
    if (!view.fill_label.empty() &&
        button(look, {"fill gap", view.fill_label, "Ctrl G"}, Weight::main, inside)) {
        perform("fill gap", desk);
    }
    if (button(look, {"save packing list", "Packing list as PDF", "Ctrl S"}, Weight::plain, inside,
               0, view.has_boat)) {
        perform("save packing list", desk);
    }
}

}  // namespace coilbook::bench::day_page
