// Which coil it is, what it is held to be, where it is and what it balances on.
#include <imgui.h>

#include "bench/pages/coil/coil_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::coil_page {
namespace {

// A mark, and beside it a paragraph.
void draw_point(const Look& look, Mark mark, Tone tone, const std::string& words) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_mark(*ImGui::GetWindowDrawList(), mark, at.x + look.px(8),
              at.y + look.fonts.text->FontSize / 2 + look.px(1), look.px(6.5F),
              colour_of(tone, *look.theme), look.theme->card);
    ImGui::SetCursorScreenPos({at.x + look.px(24), at.y});
    const GroupScope group;
    wrapped(look, look.fonts.text, words);
}

void draw_verdict(const Look& look, const WhoView& who) {
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    line(look, look.fonts.title, who.code);
    note_item(look, "coil", who.code);
    ImGui::SameLine(0, look.px(14));
    const float lower = look.fonts.title->Ascent - look.fonts.strong->Ascent;
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + lower);
    line_within(look, look.fonts.strong, ImGui::GetContentRegionAvail().x, who.verdict);
    note_item(look, "verdict", who.verdict);
    draw_point(look, who.state.mark, who.state.tone,
               who.certainty.empty() ? who.state.word : who.state.word + ", " + who.certainty);
    if (!who.certainty.empty()) help_on_item(look, who.certainty_help);
    if (!who.gist.empty()) wrapped(look, look.fonts.text, who.gist);
    if (!who.doubt.empty()) draw_point(look, Mark::warning, Tone::warn, who.doubt);
}

void draw_place(const Look& look, const WhoView& who) {
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    line(look, look.fonts.small, "Where it is", Tone::muted);
    wrapped(look, look.fonts.text, who.place);
    note_item(look, "place", who.place);
    if (!who.dispute.empty()) draw_point(look, Mark::warning, Tone::warn, who.dispute);
    for (const auto& step : who.steps) wrapped(look, look.fonts.small, step, Tone::muted);
}

}  // namespace

void draw_who(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "who", width, height);
    const bool entered = draw_field(look, at, Spot::code,
                                    {.id = "code",
                                     .label = "Code: scan or type it",
                                     .unit = {},
                                     .note = {},
                                     .error = {},
                                     .hint = at.view.has_coil ? "the next one" : "A7"},
                                    at.form.code);
    if (entered) enter_code(at.form, at.outbox);
    if (!at.view.has_coil) {
        wrapped(look, look.fonts.text, at.view.nothing, Tone::muted);
        return;
    }
    const WhoView& who = at.view.who;
    draw_verdict(look, who);
    ImGui::Dummy({1, look.px(2)});
    draw_place(look, who);
    ImGui::Dummy({1, look.px(2)});
    wrapped(look, look.fonts.text, who.balance, who.is_balance_known ? Tone::normal : Tone::muted);
    note_item(look, "balance", who.balance);
    if (draw_field(look, at, Spot::notes,
                   {.id = "notes",
                    .label = "Notes (Ctrl E)",
                    .unit = {},
                    .note = {},
                    .error = {},
                    .hint = "whatever should be remembered"},
                   at.form.notes)) {
        at.outbox.post(SaveNotes{at.form.notes});
    }
}

}  // namespace coilbook::bench::coil_page
