// What is known of the instrument in hand, and what can be done with it.
#include <imgui.h>

#include "bench/pages/instruments/instruments_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::instruments_page {
namespace {

void draw_head(const Look& look, const AboutView& about) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    line_within(look, look.fonts.title, ImGui::GetContentRegionAvail().x - look.px(160),
                about.title);
    note_item(look, "instrument in hand", about.title);
    ImGui::SameLine(0, look.px(14));
    const float middle = at.y + look.fonts.title->FontSize / 2;
    const float x = ImGui::GetCursorScreenPos().x;
    draw_mark(*ImGui::GetWindowDrawList(), about.state.mark, x + look.px(7), middle, look.px(7),
              colour_of(about.state.tone, *look.theme), look.theme->card);
    ImGui::SetCursorScreenPos({x + look.px(22), middle - look.fonts.text->FontSize / 2});
    line(look, look.fonts.text, about.state.word, about.state.tone);
    note_item(look, "instrument state", about.state.word);
    ImGui::SetCursorScreenPos({at.x, at.y + look.fonts.title->FontSize + look.px(10)});
}

}  // namespace

void draw_about(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "about", width, height);
    if (!at.view.has_instrument) {
        line(look, look.fonts.title, "No instrument in hand");
        wrapped(look, look.fonts.text, "Choose one at the left.", Tone::muted);
        return;
    }
    const AboutView& about = at.view.about;
    draw_head(look, about);
    for (const Sentence& each : about.sentences) draw_sentence(look, "known", each);
    ImGui::Dummy({1, look.px(4)});
    const float inside = ImGui::GetContentRegionAvail().x, gap = look.px(10);
    const float side = look.px(210);
    if (button(look, {"check", about.check_label, "F5"}, Weight::main, inside - side - gap,
               look.px(50))) {
        perform("check", at);
    }
    ImGui::SameLine(0, gap);
    if (button(look, {"figures", "Maker's figures", "F6"}, Weight::plain, side, look.px(50))) {
        perform("figures", at);
    }
    ImGui::Dummy({1, look.px(6)});
    draw_how(look, "How it is checked", about.how);
    if (!about.is_micrometer) return;
    ImGui::Dummy({1, look.px(8)});
    line(look, look.fonts.strong, "Soft coatings");
    wrapped(look, look.fonts.text, about.squeeze);
    note_item(look, "squeeze words", about.squeeze);
    ImGui::Dummy({1, look.px(2)});
    if (button(look, {"squeeze", "Find how soft coatings squeeze", "F7"}, Weight::plain, inside,
               look.px(46), about.can_find_squeeze)) {
        perform("squeeze", at);
    }
}

}  // namespace coilbook::bench::instruments_page
