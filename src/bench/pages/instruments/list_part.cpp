// The list: all instruments, kind by kind, with whether their check still counts, and the field to
// find or make one.
#include <imgui.h>

#include <string>

#include "bench/pages/instruments/instruments_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::instruments_page {
namespace {

float row_height(const Look& look) {
    return look.px(52);
}

// Its name and its state in the first line, what it reads in the second. Gives whether it was
// clicked.
bool instrument_row(const Look& look, const InstrumentRow& row, float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "instrument " + row.id, row.state.word);
    const bool hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (row.in_hand || hovered) list.AddRectFilled(low, high, ink(theme.raised), look.px(7));
    if (row.in_hand) list.AddRect(low, high, ink(theme.accent), look.px(7), 0, look.px(2));

    const Colour tone = colour_of(row.state.tone, theme);
    const float pad = look.px(6), left = low.x + look.px(34), right = high.x - pad;
    draw_mark(list, row.state.mark, low.x + look.px(18), low.y + height / 2, look.px(7.5F), tone,
              row.in_hand ? theme.raised : theme.card);
    ImFont* font = look.fonts.small;
    const float baseline = low.y + pad + look.fonts.strong->Ascent - font->Ascent;
    const std::string aside = row.has_draft ? "check begun" : row.state.word;
    const float wide = extent(font, aside).x;
    const bool fits = left + extent(look.fonts.strong, row.name).x + pad + wide <= right;
    put(list, look.fonts.strong, {left, low.y + pad}, ink(theme.text),
        cut_to(look.fonts.strong, row.name, right - left));
    if (fits) {
        put(list, font, {right - wide, baseline}, ink(row.has_draft ? theme.accent : tone), aside);
    }
    put(list, font, {left, high.y - pad - font->FontSize}, ink(theme.text),
        cut_to(font, row.reads, right - left));
    if (hovered) {
        const TooltipScope tip;
        ImGui::TextUnformatted(row.whole.c_str());
    }
    return clicked;
}

void draw_rows(const Look& look, const Place& at, float height) {
    const ChildScope list("instruments", {0, height}, false);
    if (at.view.list.rows.empty()) {
        wrapped(look, look.fonts.text, at.view.list.nothing, Tone::muted);
    }
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
    for (const InstrumentRow& row : at.view.list.rows) {
        const IdScope id(row.id.c_str());
        if (!row.group.empty()) {
            ImGui::Dummy({1, look.px(3)});
            line(look, look.fonts.small, row.group, Tone::muted);
        }
        if (row.in_hand && at.form.shown_in_list != row.id) {
            // Scrolled into sight once, when it becomes the one in hand.
            at.form.shown_in_list = row.id;
            const float top = ImGui::GetCursorPosY();
            if (top < ImGui::GetScrollY() ||
                top + row_height(look) > ImGui::GetScrollY() + ImGui::GetWindowHeight()) {
                ImGui::SetScrollY(top - ImGui::GetWindowHeight() / 3);
            }
        }
        if (instrument_row(look, row, ImGui::GetContentRegionAvail().x, row_height(look))) {
            at.outbox.post(ChooseInstrument{row.key});
        }
    }
}

}  // namespace

void draw_list(const Look& look, const Place& at, float width, float height) {
    const ListView& list = at.view.list;
    const Card card(look, "list", width, height, "Instruments", list.summary);
    ImGui::Spacing();
    const float inside = ImGui::GetContentRegionAvail().x;
    Field field{"Find by code, or a new code", "", "code", list.code_note, list.code_error};
    if (at.form.code_was_emptied) at.form.rewritten = Spot::code;
    at.form.code_was_emptied = false;
    field.note.clear();  // these stand below, over the whole width
    field.error.clear();
    if (draw_field(look, at, Spot::code, "code", field, at.form.code,
                   FieldPlace{0, inside, look.px(42), 0})) {
        enter_code(at.view, at.form, at.outbox);
    }
    if (!list.code_error.empty()) wrapped(look, look.fonts.small, list.code_error, Tone::bad);
    if (!list.code_note.empty()) wrapped(look, look.fonts.small, list.code_note, Tone::accent);
    const float buttons = look.px(44) * 2 + look.px(8);
    draw_rows(look, at, ImGui::GetContentRegionAvail().y - buttons - look.px(10));
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(8)});
    if (button(look, {"new instrument", "Add an instrument", "Ctrl N"}, Weight::plain, inside,
               look.px(44))) {
        perform("new instrument", at);
    }
    if (button(look, {"study", "Study how well people read", "F9"}, Weight::plain, inside,
               look.px(44))) {
        perform("study", at);
    }
}

}  // namespace coilbook::bench::instruments_page
