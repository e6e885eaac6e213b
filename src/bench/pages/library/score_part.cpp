// How good the answers are in this catalogue.
#include <imgui.h>

#include <string>

#include "bench/pages/library/library_screen.h"
#include "bench/widgets/card.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::library_page {
namespace {

// From 0 to 100 %: a bar for where the true share may lie, a disc for the share that was right, and
// an upright stroke for how sure it was said to be.
void draw_scale(const Look& look, const ScoreRow& row) {
    const Theme& theme = *look.theme;
    const float width = ImGui::GetContentRegionAvail().x, height = look.px(16);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float middle = low.y + height / 2;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const auto at = [&](double share) {
        return low.x + look.px(6) + static_cast<float>(share) * (width - look.px(12));
    };
    list.AddRectFilled({at(0), middle - look.px(2)}, {at(1), middle + look.px(2)},
                       ink(theme.raised), look.px(2));
    list.AddRectFilled({at(row.low), middle - look.px(4)}, {at(row.high), middle + look.px(4)},
                       ink(theme.accent, 0.35F), look.px(4));
    draw_mark(list, Mark::disc, at(row.share), middle, look.px(5.5F), theme.accent, theme.card);
    list.AddLine({at(row.certainty), low.y}, {at(row.certainty), low.y + height}, ink(theme.text),
                 look.px(2));
    ImGui::Dummy({width, height});
}

void draw_key(const Look& look) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float middle = low.y + font->FontSize / 2;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    float x = low.x + look.px(6);
    draw_mark(list, Mark::disc, x, middle, look.px(5), theme.accent, theme.card);
    put(list, font, {x += look.px(10), low.y}, ink(theme.muted), "right");
    x += extent(font, "right").x + look.px(14);
    list.AddRectFilled({x, middle - look.px(4)}, {x + look.px(18), middle + look.px(4)},
                       ink(theme.accent, 0.35F), look.px(4));
    put(list, font, {x += look.px(24), low.y}, ink(theme.muted), "may be, 95 %");
    x += extent(font, "may be, 95 %").x + look.px(14);
    list.AddLine({x, low.y + look.px(1)}, {x, low.y + font->FontSize}, ink(theme.text), look.px(2));
    put(list, font, {x + look.px(7), low.y}, ink(theme.muted), "said to be sure");
    ImGui::Dummy({1, font->FontSize});
}

}  // namespace

void draw_score(const Look& look, const ScoreView& score, float width, float height) {
    const Card card(look, "score card", width, height, "How good are the answers?", score.aside);
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(5)});
    for (const ScoreRow& row : score.rows) {
        line(look, look.fonts.text, row.question);
        note_item(look, "score " + row.question, row.right);
        ImGui::SameLine();
        line_ending_at(look, look.fonts.text,
                       ImGui::GetCursorPosX() + ImGui::GetContentRegionAvail().x, row.right);
        help_on_item(look, row.help);
        draw_scale(look, row);
        wrapped(look, look.fonts.small, row.words,
                row.tone == Tone::warn ? Tone::warn : Tone::muted);
    }
    if (!score.rows.empty()) draw_key(look);
    for (const std::string& words : score.words) wrapped(look, look.fonts.text, words);
}

}  // namespace coilbook::bench::library_page
