// The rows of the bin, as many columns as there is room for.
#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "bench/pages/bin/bin_screen.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bin_page {
namespace {

// How wide a column is at scale 1, whether it holds figures, and how soon it makes room for others:
// the one with the greatest number first. A column of width 0 shares what is left.
struct Shape {
    SortBy what;
    float width;
    bool is_figure;
    int gives_way;
};
constexpr std::array shapes{
    Shape{SortBy::code, 104, false, 0},    Shape{SortBy::state, 30, false, 0},
    Shape{SortBy::what, 200, false, 0},    Shape{SortBy::weight, 180, true, 1},
    Shape{SortBy::diameter, 142, true, 4}, Shape{SortBy::density, 132, true, 5},
    Shape{SortBy::rate, 142, true, 2},     Shape{SortBy::next, 130, false, 3},
    Shape{SortBy::group, 112, false, 6},   Shape{SortBy::notes, 160, false, 7},
};
constexpr float tick_width = 36;

struct Placed {
    Shape shape;
    float left = 0, width = 0;  // pixels from the left edge of the row
};

// The columns that fit into `width` pixels, stretched so that they fill it.
std::vector<Placed> placed_in(const Look& look, float width, bool is_grouped) {
    std::vector<Shape> kept(shapes.begin(), shapes.end());
    if (is_grouped) std::ranges::find(kept, SortBy::group, &Shape::what)->gives_way = 1;
    const auto needed = [&] {
        float sum = look.px(tick_width);
        for (const Shape& each : kept) sum += look.px(each.width);
        return sum;
    };
    while (needed() > width) {
        const auto first = std::ranges::max_element(kept, {}, &Shape::gives_way);
        if (first->gives_way == 0) break;
        kept.erase(first);
    }
    const float spare = std::max(0.0F, width - needed());
    std::vector<Placed> placed;
    float left = look.px(tick_width);
    for (const Shape& each : kept) {
        float wide = look.px(each.width);
        if (each.what == SortBy::what) wide += spare * 0.6F;
        if (each.what == kept.back().what) wide += spare * 0.4F;
        placed.push_back({each, left, wide});
        left += wide;
    }
    return placed;
}

void draw_tick(const Look& look, ImDrawList& list, ImVec2 centre, bool is_ticked) {
    const Theme& theme = *look.theme;
    const float half = look.px(9);
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

// The heads; a click sorts by one, and a second one the other way round.
void draw_heads(const Look& look, const std::vector<Placed>& columns_placed, const View& view,
                Form& form) {
    const Theme& theme = *look.theme;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float height = look.fonts.small->FontSize + look.px(14);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    for (const Placed& column : columns_placed) {
        const auto at = static_cast<std::size_t>(column.shape.what);
        const IdScope id(static_cast<int>(at));
        const bool is_state = column.shape.what == SortBy::state;
        const std::string head = is_state ? "" : view.heads[at];
        ImGui::SetCursorScreenPos({start.x + column.left, start.y});
        if (ImGui::InvisibleButton("head", {column.width, height})) {
            const bool again = form.order.by == column.shape.what;
            form.order = {column.shape.what, again && !form.order.is_descending};
        }
        note_item(look, "head " + view.heads[at], head);
        help_on_item(look, view.head_help[at]);
        const bool is_sorted = form.order.by == column.shape.what;
        ImFont* font = look.fonts.small;
        const float arrow = is_sorted ? look.px(14) : 0;
        const std::string words = cut_to(font, head, column.width - look.px(12) - arrow);
        const float wide = extent(font, words).x + arrow;
        const float x = column.shape.is_figure
                            ? start.x + column.left + column.width - look.px(12) - wide
                            : start.x + column.left;
        const Colour colour = is_sorted || ImGui::IsItemHovered() ? theme.text : theme.muted;
        put(list, font, {x, start.y + look.px(7)}, ink(colour), words);
        if (is_sorted) {
            const float cx = x + wide - look.px(6), cy = start.y + look.px(7) + font->FontSize / 2;
            const float size = look.px(4), way = form.order.is_descending ? 1.0F : -1.0F;
            list.AddTriangleFilled({cx - size, cy - way * size * 0.6F},
                                   {cx + size, cy - way * size * 0.6F},
                                   {cx, cy + way * size * 0.9F}, ink(theme.text));
        }
    }
    const float bottom = start.y + height;
    list.AddLine({start.x, bottom}, {start.x + ImGui::GetContentRegionAvail().x, bottom},
                 ink(theme.border), look.px(1));
    ImGui::SetCursorScreenPos({start.x, bottom + look.px(2)});
}

const std::string& words_in(const RowView& row, SortBy column) {
    switch (column) {
        case SortBy::code:
            return row.code;
        case SortBy::state:
            return row.state.word;
        case SortBy::what:
            return row.what;
        case SortBy::weight:
            return row.weight;
        case SortBy::diameter:
            return row.diameter;
        case SortBy::density:
            return row.density;
        case SortBy::rate:
            return row.rate;
        case SortBy::next:
            return row.next;
        case SortBy::group:
            return row.group;
        case SortBy::notes:
            return row.notes;
    }
    return row.code;
}

struct Clicked {
    bool row = false, tick = false, twice = false;
};

Clicked draw_row(const Look& look, const std::vector<Placed>& columns_placed, const RowView& row,
                 float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos(), high{low.x + width, low.y + height};
    Clicked clicked;
    clicked.row = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "row " + row.code, row.what);
    clicked.tick = clicked.row && ImGui::GetMousePos().x < low.x + look.px(tick_width);
    const bool is_hovered = ImGui::IsItemHovered();
    clicked.twice = is_hovered && ImGui::IsMouseDoubleClicked(0);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (row.is_at || is_hovered) list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
    if (row.is_at) list.AddRect(low, high, ink(theme.accent), look.px(6), 0, look.px(1.5F));
    const float middle = low.y + height / 2;
    draw_tick(look, list, {low.x + look.px(18), middle}, row.is_ticked);
    for (const Placed& column : columns_placed) {
        const SortBy what = column.shape.what;
        const float left = low.x + column.left;
        if (what == SortBy::state) {
            if (row.state.word.empty()) continue;
            draw_mark(list, row.state.mark, left + look.px(9), middle, look.px(7),
                      colour_of(row.state.tone, theme), row.is_at ? theme.raised : theme.card);
            continue;
        }
        float room = column.width - look.px(12);
        if (what == SortBy::what && !row.sure.empty()) {
            const float wide = extent(look.fonts.small, row.sure).x;
            const float baseline = middle - look.fonts.text->FontSize / 2 +
                                   look.fonts.text->Ascent - look.fonts.small->Ascent;
            put(list, look.fonts.small, {left + column.width - look.px(16) - wide, baseline},
                ink(colour_of(row.state.tone, theme)), row.sure);
            room -= wide + look.px(12);
        }
        ImFont* font = what == SortBy::code ? look.fonts.strong : look.fonts.text;
        const bool is_word = what == SortBy::next || what == SortBy::notes || what == SortBy::group;
        if (is_word) font = look.fonts.small;
        const std::string words = cut_to(font, words_in(row, what), room);
        const float x = column.shape.is_figure ? left + room - extent(font, words).x : left;
        put(list, font, {x, middle - font->FontSize / 2}, ink(theme.text), words);
    }
    if (is_hovered && !row.notes.empty()) {
        const TooltipScope tip;
        ImGui::TextUnformatted(row.notes.c_str());
    }
    return clicked;
}

}  // namespace

void draw_table(const Look& look, const View& view, Desk& desk, float height) {
    Form& form = desk.form();
    const float bar = ImGui::GetStyle().ScrollbarSize;
    const float width = ImGui::GetContentRegionAvail().x - bar;
    const auto columns_placed = placed_in(look, width, view.is_grouped);
    const float top = ImGui::GetCursorPosY();
    draw_heads(look, columns_placed, view, form);
    const ChildScope list("rows", {0, height - (ImGui::GetCursorPosY() - top)}, false);
    if (view.count == 0) {
        ImGui::Dummy({1, look.px(8)});
        wrapped(look, look.fonts.text, view.nothing, Tone::muted);
        note_item(look, "nothing", view.nothing);
        return;
    }
    const float row_height = look.px(38), row_gap = look.px(2), step = row_height + row_gap;
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, row_gap});
    if (form.scrolls && view.at) {
        const float y = static_cast<float>(*view.at) * step;
        const float from = ImGui::GetScrollY(), room = ImGui::GetWindowHeight();
        if (y < from) ImGui::SetScrollY(y);
        if (y + step > from + room) ImGui::SetScrollY(y + step - room);
    }
    form.scrolls = false;
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(view.count), step);
    while (clipper.Step()) {
        for (int at = clipper.DisplayStart; at < clipper.DisplayEnd; ++at) {
            const RowView row = view.row(static_cast<std::size_t>(at));
            const IdScope id(at);
            const auto clicked = draw_row(look, columns_placed, row, width, row_height);
            if (clicked.row) form.at = row.coil;
            if (clicked.tick) desk.tick_this();
            if (clicked.twice && !clicked.tick) desk.outbox().post(TakeToTheBench{row.coil});
        }
    }
}

}  // namespace coilbook::bench::bin_page
