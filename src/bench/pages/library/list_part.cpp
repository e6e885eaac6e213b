// The list of the classes, and the field that finds one.
#include <imgui.h>

#include <array>
#include <string>
#include <utility>

#include "bench/pages/library/library_actions.h"
#include "bench/pages/library/library_screen.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::library_page {
namespace {

// Right edges of the figures' columns, in pixels at scale 1 from the right edge of the list.
constexpr std::array<float, 3> columns{168, 114, 70};
constexpr float confirmed_from_right = 34, aside_from_right = 2;

std::string_view text_in(const ClassRow& row, std::size_t column) {
    return column == 0 ? row.weight : column == 1 ? row.density : row.rate;
}

void put_ending(ImDrawList& list, const ImFont* font, float right, float y, ImU32 colour,
                std::string_view text) {
    put(list, font, {right - extent(font, text).x, y}, colour, text);
}

// What the columns are, above them; the two shapes count coils.
void draw_heads(const Look& look, const ListView& view, float width) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float right = low.x + width;
    put(list, font, {low.x + look.px(32), low.y}, ink(theme.muted), "class");
    for (std::size_t at = 0; at < columns.size(); ++at) {
        put_ending(list, font, right - look.px(columns[at]), low.y, ink(theme.muted),
                   view.units[at]);
    }
    const float middle = low.y + font->FontSize / 2;
    draw_mark(list, Mark::check, right - look.px(confirmed_from_right + 6), middle, look.px(7),
              theme.good, theme.card);
    draw_mark(list, Mark::warning, right - look.px(aside_from_right + 7), middle, look.px(6.5F),
              theme.warn, theme.card);
    ImGui::Dummy({width, font->FontSize + look.px(6)});
    const std::array<float, 5> ends{columns[0], columns[1], columns[2], confirmed_from_right,
                                    aside_from_right};
    const float bottom = low.y + font->FontSize;
    for (std::size_t at = 0; at < ends.size(); ++at) {
        const float wide = at < columns.size() ? extent(font, view.units[at]).x : look.px(14);
        const float end = right - look.px(ends[at]);
        help_on(look, end - wide, low.y, end, bottom, view.help[at]);
    }
}

// Gives whether it was clicked.
bool class_row(const Look& look, const ClassRow& row, float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    ImFont* small = look.fonts.small;
    const float y = low.y + (height - small->FontSize) / 2;
    if (row.is_heading()) {
        ImGui::Dummy({width, height});
        put(list, look.fonts.strong,
            {low.x + look.px(4), high.y - look.fonts.strong->FontSize - look.px(5)},
            ink(theme.text), row.heading);
        return false;
    }
    const bool clicked = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "class " + row.name, row.weight);
    const bool hovered = ImGui::IsItemHovered();
    if (row.is_chosen || hovered) list.AddRectFilled(low, high, ink(theme.raised), look.px(6));
    if (row.is_chosen) list.AddRect(low, high, ink(theme.accent), look.px(6), 0, look.px(2));
    const Colour series = theme.series[row.series % theme.series.size()];
    draw_mark(list, row.mark, low.x + look.px(17), low.y + height / 2, look.px(5.5F), series,
              row.is_chosen ? theme.raised : theme.card);
    ImFont* font = row.is_chosen ? look.fonts.strong : look.fonts.text;
    const float left = low.x + look.px(32);
    const float numbers = high.x - look.px(columns[0] + 44);
    const std::string name = cut_to(font, row.label, numbers - left);
    put(list, font, {left, low.y + (height - font->FontSize) / 2}, ink(theme.text), name);
    // The grade where the name does not say it.
    const float after = left + extent(font, name).x + look.px(10);
    if (row.label.find(row.grade) == std::string::npos &&
        after + extent(small, row.grade).x < numbers) {
        put(list, small, {after, y}, ink(theme.muted), row.grade);
    }
    for (std::size_t at = 0; at < columns.size(); ++at) {
        put_ending(list, small, high.x - look.px(columns[at]), y, ink(theme.text),
                   text_in(row, at));
    }
    put_ending(list, small, high.x - look.px(confirmed_from_right), y, ink(theme.good),
               row.confirmed);
    put_ending(list, small, high.x - look.px(aside_from_right + 3), y, ink(theme.warn),
               row.set_aside);
    if (hovered) {
        const TooltipScope tip;
        ImGui::TextUnformatted(row.whole.c_str());
    }
    return clicked;
}

// The chosen class is scrolled into sight once, when it becomes the chosen one.
void keep_in_sight(const ListView& list, Form& form, float row_height) {
    if (form.shown_class == form.chosen_class) return;
    for (std::size_t at = 0; at < list.rows.size(); ++at) {
        if (!list.rows[at].is_chosen) continue;
        const float top = static_cast<float>(at) * row_height;
        const float seen = ImGui::GetScrollY(), high = ImGui::GetWindowHeight();
        if (top < seen + row_height) ImGui::SetScrollY(top - 2 * row_height);
        if (top + row_height > seen + high) ImGui::SetScrollY(top + 2 * row_height - high);
        form.shown_class = form.chosen_class;
    }
}

}  // namespace

void draw_list(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
               float height) {
    const ListView& list = view.list;
    const Card card(look, "classes", width, height, "Classes", list.summary);
    const bool focus = form.task == Task::look && form.frames_to_focus > 0;
    const FieldText text{.id = "filter",
                         .label = "Find: class, family, grade, or a coil's code",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "type 6, T-11, leader …",
                         .rewritten = std::exchange(form.filter_was_emptied, false)};
    const float inside = ImGui::GetContentRegionAvail().x;
    const FieldResult result =
        number_field(look, text, {.field_width = inside}, form.filter, focus);
    if (result.entered) zoom_to_chosen(view, form);
    if (!list.note.empty()) line(look, look.fonts.small, list.note, Tone::accent);

    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, 0});
    const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
    const float bar = ImGui::GetStyle().ScrollbarSize + look.px(4);
    draw_heads(look, list, inside - bar);
    const ChildScope rows("rows", {0, 0}, false);
    if (list.rows.empty()) wrapped(look, look.fonts.text, list.nothing, Tone::muted);
    const float row_height = look.px(34);
    keep_in_sight(list, form, row_height);
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(list.rows.size()), row_height);
    while (clipper.Step()) {
        for (int at = clipper.DisplayStart; at < clipper.DisplayEnd; ++at) {
            const ClassRow& row = list.rows[static_cast<std::size_t>(at)];
            const IdScope id(at);
            if (class_row(look, row, inside - bar, row_height)) {
                outbox.post(ChooseClass{row.name});
            }
        }
    }
}

}  // namespace coilbook::bench::library_page
