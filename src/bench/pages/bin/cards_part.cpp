// The coils of the bin as cards: fewer at once, each to be read from a step away.
#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/pages/bin/bin_screen.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bin_page {
namespace {

struct Clicked {
    bool once = false, twice = false;
};
Clicked draw_card(const Look& look, const RowView& row, float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    Clicked clicked;
    clicked.once = ImGui::InvisibleButton("card", {width, height});
    clicked.twice = ImGui::IsItemHovered() && ImGui::IsMouseDoubleClicked(0);
    note_item(look, "card " + row.code, row.what);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const bool is_raised = row.is_at || ImGui::IsItemHovered();
    const Colour ground = is_raised ? theme.raised : theme.card;
    list.AddRectFilled(low, high, ink(ground), look.px(8));
    const Colour edge = row.is_at ? theme.accent : theme.border;
    list.AddRect(low, high, ink(edge), look.px(8), 0, look.px(row.is_at ? 2 : 1));
    const float pad = look.px(12), left = low.x + pad, right = high.x - pad;
    ImFont *strong = look.fonts.strong, *text = look.fonts.text, *small = look.fonts.small;
    float y = low.y + pad;
    draw_mark(list, row.state.mark, left + look.px(7), y + strong->FontSize / 2, look.px(7),
              colour_of(row.state.tone, theme), ground);
    put(list, strong, {left + look.px(22), y}, ink(theme.text), row.code);
    const std::string aside = row.is_ticked ? "ticked" : row.sure;
    const Colour tone = row.is_ticked ? theme.accent : colour_of(row.state.tone, theme);
    put(list, small, {right - extent(small, aside).x, y + strong->Ascent - small->Ascent},
        ink(tone), aside);
    y += strong->FontSize + look.px(6);
    const std::string& what = row.what.empty() ? row.state.word : row.what;
    put(list, text, {left, y}, ink(theme.text), cut_to(text, what, right - left));
    y += text->FontSize + look.px(5);
    put(list, small, {left, y}, ink(theme.text), cut_to(small, row.gist, right - left));
    y += small->FontSize + look.px(4);
    const std::string last = !row.next.empty() ? "next: " + row.next : row.notes;
    put(list, small, {left, y}, ink(theme.muted), cut_to(small, last, right - left));
    return clicked;
}

}  // namespace

void draw_cards(const Look& look, const View& view, Desk& desk, float height) {
    Form& form = desk.form();
    const float gap = look.px(10), card_height = look.px(104);
    const float width = ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ScrollbarSize;
    const auto across =
        std::max<std::size_t>(1, static_cast<std::size_t>((width + gap) / (look.px(236) + gap)));
    const float card = (width - gap * static_cast<float>(across - 1)) / static_cast<float>(across);
    const ChildScope cards("cards", {0, height}, false);
    if (view.count == 0) {
        wrapped(look, look.fonts.text, view.nothing, Tone::muted);
        note_item(look, "nothing", view.nothing);
        return;
    }
    const float step = card_height + gap;
    if (form.scrolls && view.at) {
        const float y = static_cast<float>(*view.at / across) * step;
        const float from = ImGui::GetScrollY(), room = ImGui::GetWindowHeight();
        if (y < from) ImGui::SetScrollY(y);
        if (y + step > from + room) ImGui::SetScrollY(y + step - room);
    }
    form.scrolls = false;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{gap, gap});
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>((view.count + across - 1) / across), step);
    while (clipper.Step()) {
        for (int line = clipper.DisplayStart; line < clipper.DisplayEnd; ++line) {
            for (std::size_t column = 0; column < across; ++column) {
                const std::size_t at = static_cast<std::size_t>(line) * across + column;
                if (at >= view.count) break;
                if (column > 0) ImGui::SameLine();
                const RowView row = view.row(at);
                const IdScope id(static_cast<int>(at));
                const Clicked clicked = draw_card(look, row, card, card_height);
                if (clicked.once) form.at = row.coil;
                if (clicked.twice) desk.outbox().post(TakeToTheBench{row.coil});
            }
        }
    }
}

}  // namespace coilbook::bench::bin_page
