// A check while it is made: the standard that lies there, its readings, and those read before.
#include <imgui.h>

#include <array>
#include <string>

#include "bench/pages/instruments/instruments_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::instruments_page {
namespace {

// What to do now, in a frame that is seen from where the scale stands.
void draw_step(const Look& look, const std::string& words) {
    const Theme& theme = *look.theme;
    const float inside = ImGui::GetContentRegionAvail().x, pad = look.px(12);
    const std::string lines = in_lines(look.fonts.strong, words, inside - 2 * pad);
    const ImVec2 size = extent(look.fonts.strong, lines);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + inside, low.y + size.y + look.px(18)};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(low, high, ink(theme.accent, 0.12F), look.px(7));
    list.AddRectFilled(low, {low.x + look.px(4), high.y}, ink(theme.accent), look.px(2));
    put(list, look.fonts.strong, {low.x + pad, low.y + look.px(9)}, ink(theme.text), lines);
    ImGui::Dummy({inside, high.y - low.y});
    note_item(look, "step", words);
}

// A reading; a click takes it out. Gives whether it was clicked.
bool draw_chip(const Look& look, const std::string& id, const ReadingChip& chip, float right,
               bool is_first) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.text;
    const float mark = chip.is_odd ? look.px(20) : 0, pad = look.px(10);
    const ImVec2 size{extent(font, chip.text).x + 2 * pad + mark, look.px(34)};
    if (!is_first) {
        ImGui::SameLine(0, look.px(6));
        if (ImGui::GetCursorPosX() + size.x > right) ImGui::NewLine();
    }
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + size.x, low.y + size.y};
    const bool clicked = ImGui::InvisibleButton(id.c_str(), size);
    note_item(look, id, chip.is_odd ? chip.text + ", unlike the others" : chip.text);
    const bool hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(low, high, ink(hovered ? theme.border : theme.raised), look.px(17));
    if (chip.is_odd) {
        list.AddRect(low, high, ink(theme.warn), look.px(17), 0, look.px(2));
        draw_mark(list, Mark::warning, low.x + pad + look.px(7), low.y + size.y / 2, look.px(6.5F),
                  theme.warn, theme.raised);
    }
    put(list, font, {low.x + pad + mark, low.y + (size.y - font->FontSize) / 2}, ink(theme.text),
        chip.text);
    if (hovered) {
        const TooltipScope tip;
        ImGui::TextUnformatted("Click: take it out");
    }
    return clicked;
}

void draw_chips(const Look& look, const Place& at) {
    const CheckView& view = at.view.check;
    const float right = ImGui::GetWindowContentRegionMax().x;
    for (std::size_t index = 0; index < view.chips.size(); ++index) {
        if (draw_chip(look, "chip " + std::to_string(index), view.chips[index], right,
                      index == 0)) {
            take_out(at.form, index);
        }
    }
    if (!view.live.empty()) {
        line(look, look.fonts.strong, view.live);
        note_item(look, "live", view.live);
        help_on_item(look, view.live_help);
    }
    if (!view.odd.empty()) {
        draw_sentence(look, "odd", {view.odd, Tone::warn, Mark::warning});
    }
}

void draw_sure(const Look& look, const Place& at, CheckDraft& check, const FieldPlace& place) {
    static constexpr std::array<std::string_view, 3> ways{"at most", "k = 1", "k = 2"};
    const CheckView& view = at.view.check;
    Field field = view.sure;
    if (field.error.empty()) field.note.clear();  // it stands beside the choice
    if (draw_field(look, at, Spot::sure, "sure", field, check.sure.text, place)) {
        enter_sure(at.form);
    }
    const FieldText text{
        .id = "stated as",
        .label = "which is",
        .unit = {},
        .note = field.error.empty() ? std::string_view(view.sure.note) : std::string_view(),
        .error = {},
        .hint = {}};
    FieldPlace choice = place;
    choice.field_width = look.px(222);
    choice.height = look.px(36);
    std::string picked(ways[static_cast<std::size_t>(view.stated_as)]);
    const auto result = choice_field(look, text, choice, ways, view.stated_as, picked, false);
    for (std::size_t way = 0; way < ways.size(); ++way) {
        const bool is_other = static_cast<int>(way) != view.stated_as;
        if (is_other && picked == ways[way]) {
            state_otherwise(at.form, static_cast<app::StatedAs>(way));
        }
    }
    if (result.entered) go_to(at.form, Spot::sure);
}

void draw_standards(const Look& look, const Place& at) {
    const Theme& theme = *look.theme;
    const auto& rows = at.view.check.standards;
    if (rows.empty()) return;
    line(look, look.fonts.small, "Standards read, and how far off each is", Tone::muted);
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
    for (std::size_t index = 0; index < rows.size(); ++index) {
        const StandardRow& row = rows[index];
        const std::string id = "standard " + std::to_string(index);
        const float width = ImGui::GetContentRegionAvail().x, height = look.px(32);
        const ImVec2 low = ImGui::GetCursorScreenPos();
        const ImVec2 high{low.x + width, low.y + height};
        if (ImGui::InvisibleButton(id.c_str(), {width, height})) lay_on(at.form, index);
        note_item(look, id, row.stated + ", " + row.readings);
        if (!row.off.empty()) help_on_item(look, at.view.check.off_help);
        ImDrawList& list = *ImGui::GetWindowDrawList();
        if (row.at_hand || ImGui::IsItemHovered()) {
            list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
        }
        ImFont* font = row.at_hand ? look.fonts.strong : look.fonts.text;
        const float y = low.y + (height - font->FontSize) / 2;
        if (row.at_hand) {
            draw_mark(list, Mark::diamond, low.x + look.px(10), low.y + height / 2, look.px(5.5F),
                      theme.accent, theme.raised);
        } else if (row.is_odd) {
            draw_mark(list, Mark::warning, low.x + look.px(10), low.y + height / 2, look.px(6),
                      theme.warn, theme.card);
        }
        put(list, font, {low.x + look.px(24), y}, ink(theme.text), row.stated);
        put(list, look.fonts.small,
            {low.x + width * 0.38F, low.y + (height - look.fonts.small->FontSize) / 2},
            ink(theme.muted), row.readings);
        put(list, look.fonts.text,
            {high.x - extent(look.fonts.text, row.off).x - look.px(8),
             low.y + (height - look.fonts.text->FontSize) / 2},
            ink(theme.text), row.off);
    }
}

}  // namespace

void draw_check(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "check", width, height);
    CheckDraft* check = check_at_hand(at.form);
    if (check == nullptr) return;
    const CheckView& view = at.view.check;
    line(look, look.fonts.title, view.title);
    ImGui::Dummy({1, look.px(2)});
    draw_step(look, view.step);
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(8)});
    ImGui::Dummy({1, 0});
    const FieldPlace place{look.px(116), look.px(150), look.px(44), 0};
    const ImVec2 start = ImGui::GetCursorPos();
    const float inside = ImGui::GetContentRegionAvail().x;
    if (draw_field(look, at, Spot::stated, "stated", view.stated, check->stated.text, place)) {
        enter_stated(at.form);
    }
    if (!view.other_unit.empty() && view.stated.error.empty()) {
        const ImVec2 after = ImGui::GetCursorPos();
        const float wide = look.px(130);
        ImGui::SetCursorPos({start.x + inside - wide, start.y});
        const std::string label = "Type " + view.other_unit;
        if (button(look, {"other unit", label, "F3"}, Weight::plain, wide, look.px(44))) {
            perform("other unit", at);
        }
        ImGui::SetCursorPos(after);
    }
    draw_sure(look, at, *check, place);
    if (view.may_read) {
        if (draw_field(look, at, Spot::reading, "reading", view.reading, check->reading.text,
                       place)) {
            enter_reading(at.form);
        }
        draw_chips(look, at);
    }
    ImGui::Dummy({1, look.px(2)});
    draw_standards(look, at);
    ImGui::Dummy({1, look.px(4)});
    draw_how(look, "Take care", view.how);
}

}  // namespace coilbook::bench::instruments_page
