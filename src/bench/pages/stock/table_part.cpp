// The rows of the stock, and the bars of the losses.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "bench/pages/stock/stock_actions.h"
#include "bench/pages/stock/stock_screen.h"
#include "bench/widgets/bar_plot.h"
#include "bench/widgets/button.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::stock_page {
namespace {

constexpr float figure_width = 80;

// The right edges of the columns of figures, from the left edge of the row.
std::array<float, heads.size()> edges_in(const Look& look, float width) {
    std::array<float, heads.size()> edges{};
    for (std::size_t at = 0; at < heads.size(); ++at) {
        const auto behind = static_cast<float>(heads.size() - 1 - at);
        edges[at] = width - look.px(8) - behind * look.px(figure_width);
    }
    return edges;
}

void draw_heads(const Look& look, const View& view, float width) {
    const ImVec2 low = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImFont* font = look.fonts.small;
    const auto edges = edges_in(look, width);
    put(list, font, {low.x + look.px(8), low.y}, ink(look.theme->muted), "Class");
    for (std::size_t at = 0; at < heads.size(); ++at) {
        put(list, font, {low.x + edges[at] - extent(font, heads[at]).x, low.y},
            ink(look.theme->muted), heads[at]);
        help_on(look, low.x + edges[at] - extent(font, heads[at]).x, low.y, low.x + edges[at],
                low.y + font->FontSize, view.head_help[at]);
    }
    const float bottom = low.y + font->FontSize + look.px(5);
    list.AddLine({low.x, bottom}, {low.x + width, bottom}, ink(look.theme->border), look.px(1));
    ImGui::Dummy({width, font->FontSize + look.px(4)});
}

bool draw_row(const Look& look, const StockRowView& row, float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "row " + row.class_name, row.counts[0]);
    const bool is_hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (row.is_at || is_hovered) list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
    if (row.is_at) list.AddRect(low, high, ink(theme.accent), look.px(6), 0, look.px(1.5F));
    const auto edges = edges_in(look, width);
    ImFont* font = look.fonts.text;
    const float y = low.y + (height - font->FontSize) / 2;
    const float room = edges[0] - look.px(figure_width) + look.px(8);
    put(list, font, {low.x + look.px(8), y}, ink(theme.text), cut_to(font, row.class_name, room));
    for (std::size_t at = 0; at < heads.size(); ++at) {
        const bool is_last = at + 1 == heads.size();
        const bool warns = is_last && row.is_missing;
        ImFont* type = warns ? look.fonts.strong : font;
        put(list, type, {low.x + edges[at] - extent(type, row.counts[at]).x, y},
            ink(warns ? theme.bad : theme.text), row.counts[at]);
    }
    return clicked;
}

}  // namespace

void draw_table(const Look& look, const View& view, Desk& desk, float height) {
    Form& form = desk.form();
    const float bottom = ImGui::GetCursorPosY() + height;
    const float width = ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ScrollbarSize;
    draw_heads(look, view, width);
    const ChildScope rows("rows", {0, bottom - ImGui::GetCursorPosY()}, false);
    if (view.rows.empty()) {
        wrapped(look, look.fonts.text, view.nothing, Tone::muted);
        note_item(look, "nothing", view.nothing);
    }
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
    const float row_height = look.px(38);
    for (const StockRowView& row : view.rows) {
        const IdScope id(row.class_name.c_str());
        if (row.is_at && std::exchange(form.scrolls, false)) scroll_to_row(row_height);
        if (draw_row(look, row, width, row_height)) form.row = row.class_name;
    }
}

void draw_losses(const Look& look, const View& view, Desk& desk, float height) {
    const float bottom = ImGui::GetCursorPosY() + height - look.px(52);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    help_on(look, low.x, low.y, low.x + width, low.y + look.fonts.small->FontSize, view.loss_help);
    bar_plot(look, "bars", view.losses, ImGui::GetContentRegionAvail().x,
             bottom - ImGui::GetCursorPosY());
    ImGui::SetCursorPosY(bottom + look.px(8));
    const float gap = look.px(8), each = (ImGui::GetContentRegionAvail().x - 2 * gap) / 3;
    const auto one = [&](const char* action, const char* label, const char* key) {
        if (button(look, {action, label, key}, Weight::plain, each)) perform(action, desk);
    };
    one("by boat", desk.form().by_boat ? "By class" : "By boat", "F7");
    ImGui::SameLine(0, gap);
    one("season", "Other days", "F4");
    ImGui::SameLine(0, gap);
    one("save losses", "Save plot and table", "Ctrl S");
}

}  // namespace coilbook::bench::stock_page
