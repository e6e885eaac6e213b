// What was seen on it, and noting that.
#include <imgui.h>

#include <string>

#include "bench/pages/coil/coil_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::coil_page {
namespace {

void draw_condition(const Look& look, const Place& at, const ConditionRow& row, bool is_last) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const ImVec2 local = ImGui::GetCursorPos();
    const float room = ImGui::GetContentRegionAvail().x, height = look.px(34);
    const float wide = extent(look.fonts.text, "Good again").x +
                       (is_last ? extent(look.fonts.small, "Ctrl G").x + look.px(10) : 0) +
                       look.px(28);
    ImFont* font = look.fonts.strong;
    draw_mark(*ImGui::GetWindowDrawList(), Mark::warning, start.x + look.px(8),
              start.y + height / 2, look.px(6.5F), look.theme->warn, look.theme->card);
    ImGui::SetCursorPos({local.x + look.px(24), local.y + (height - font->FontSize) / 2});
    line_within(look, font, room - wide - look.px(32), row.name);
    note_item(look, "condition " + row.name, row.words);
    ImGui::SetCursorPos({local.x + room - wide, local.y});
    if (button(look, {row.button, "Good again", is_last ? "Ctrl G" : ""}, Weight::plain, wide,
               height)) {
        at.outbox.post(NoteGoodAgain{row.what});
    }
    wrapped(look, look.fonts.small, row.words, Tone::muted);
}

// The conditions to pick by mouse, in as many rows as they need.
void draw_choice(const Look& look, const Place& at) {
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(6), look.px(6)});
    const float end = ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x;
    bool is_first = true;
    for (const Wear wear : all_wears) {
        const std::string name(name_of(wear));
        const float wide = extent(look.fonts.text, name).x + look.px(24);
        if (!is_first) {
            ImGui::SameLine();
            if (ImGui::GetCursorPosX() + wide > end) ImGui::NewLine();
        }
        const bool is_meant = at.view.care.meant == name;
        if (button(look, {"pick " + name, name, ""}, is_meant ? Weight::main : Weight::plain, wide,
                   look.px(34))) {
            pick_condition(at.form, wear);
        }
        is_first = false;
    }
}

}  // namespace

void draw_care(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "care", width, height, "Condition");
    if (!at.view.has_coil) return;
    const CareView& care = at.view.care;
    const StyleScope gaps(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(6)});
    if (!care.nothing.empty()) line(look, look.fonts.text, care.nothing, Tone::muted);
    for (const auto& row : care.now) draw_condition(look, at, row, &row == &care.now.back());
    if (!care.caution.empty()) wrapped(look, look.fonts.text, care.caution, Tone::warn);
    if (draw_field(look, at, Spot::condition,
                   {.id = "condition",
                    .label = "Seen on it (Ctrl D): a few letters, or pick",
                    .unit = {},
                    .note = {},
                    .error = {},
                    .hint = "hinge"},
                   at.form.condition)) {
        enter_condition(at.form, at.outbox);
    }
    draw_choice(look, at);
    const bool is_noting = !care.meant.empty() || at.form.spot == Spot::condition_note;
    if (is_noting && draw_field(look, at, Spot::condition_note,
                                {.id = "condition note",
                                 .label = "More about it; Enter notes it",
                                 .unit = {},
                                 .note = {},
                                 .error = {},
                                 .hint = "where, how bad"},
                                at.form.condition_note)) {
        enter_condition_note(at.form, at.outbox);
    }
    for (const auto& each : care.before) wrapped(look, look.fonts.small, each, Tone::muted);
}

}  // namespace coilbook::bench::coil_page
