#include "bench/widgets/list_row.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>

#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
namespace {

void draw_box(const Look& look, ImDrawList& list, ImVec2 centre, bool is_ticked) {
    const Theme& theme = *look.theme;
    const float half = look.px(10);
    const ImVec2 low{centre.x - half, centre.y - half}, high{centre.x + half, centre.y + half};
    list.AddRectFilled(low, high, ink(is_ticked ? theme.accent : theme.field), look.px(4));
    list.AddRect(low, high, ink(is_ticked ? theme.accent : theme.field_border), look.px(4), 0,
                 look.px(1.25F));
    if (!is_ticked) return;
    const std::array<ImVec2, 3> stroke{ImVec2{centre.x - half * 0.5F, centre.y},
                                       ImVec2{centre.x - half * 0.1F, centre.y + half * 0.45F},
                                       ImVec2{centre.x + half * 0.55F, centre.y - half * 0.45F}};
    list.AddPolyline(stroke.data(), 3, ink(theme.on_accent), 0, look.px(2.25F));
}

}  // namespace

float list_row_height(const Look& look, bool has_second_line) {
    return look.px(has_second_line ? 54 : 40);
}

RowClicked list_row(const Look& look, const RowText& row) {
    const Theme& theme = *look.theme;
    const IdScope id(std::string(row.id).c_str());
    const float width = ImGui::GetContentRegionAvail().x;
    const float height = list_row_height(look, !row.below.empty());
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    RowClicked clicked;
    clicked.row = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "row " + std::string(row.id), row.words);
    help_on_item(look, row.help);
    const bool is_hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (row.is_at || is_hovered) list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
    if (row.is_at) list.AddRect(low, high, ink(theme.accent), look.px(6), 0, look.px(1.5F));

    const float pad = look.px(10), right = high.x - pad;
    const float line = row.below.empty() ? low.y + height / 2 : low.y + height * 0.32F;
    float x = low.x + pad + (row.is_within ? look.px(26) : 0);
    if (row.tick) {
        draw_box(look, list, {x + look.px(10), low.y + height / 2}, *row.tick);
        clicked.tick = clicked.row && ImGui::GetMousePos().x < x + look.px(30);
        x += look.px(32);
    } else if (row.mark) {
        draw_mark(list, *row.mark, x + look.px(8), low.y + height / 2, look.px(7),
                  colour_of(row.tone, theme), row.is_at ? theme.raised : theme.card);
        x += look.px(28);
    }
    ImFont* strong = look.fonts.strong;
    ImFont* text = look.fonts.text;
    ImFont* small = look.fonts.small;
    float end = right;
    if (!row.aside.empty()) {
        const float wide = extent(small, row.aside).x;
        const float y = line - strong->FontSize / 2 + strong->Ascent - small->Ascent;
        put(list, small, {right - wide, y}, ink(colour_of(row.tone, theme)), row.aside);
        end -= wide + pad;
    }
    const std::string head = cut_to(strong, row.head, std::max(end - x, 0.0F));
    put(list, strong, {x, line - strong->FontSize / 2}, ink(theme.text), head);
    if (!row.words.empty()) {
        const float wide = row.head.empty() ? 0 : extent(strong, head).x + pad;
        const float from = x + std::max(wide, look.px(row.head_width));
        if (from < end) {
            put(list, text, {from, line - text->FontSize / 2}, ink(theme.text),
                cut_to(text, row.words, end - from));
        }
    }
    if (!row.below.empty()) {
        put(list, small, {x, low.y + height * 0.7F - small->FontSize / 2}, ink(theme.muted),
            cut_to(small, row.below, right - x));
    }
    return clicked;
}

void scroll_to_row(float height) {
    const float top = ImGui::GetCursorPosY(), from = ImGui::GetScrollY();
    const float room = ImGui::GetWindowHeight();
    if (top < from) ImGui::SetScrollY(top);
    if (top + height > from + room) ImGui::SetScrollY(top + height - room);
}

}  // namespace coilbook::bench
