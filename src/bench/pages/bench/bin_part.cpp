// The bin: all coils with how far each has come, and the field to find or make one.
#include <imgui.h>

#include <string>
#include <utility>

#include "bench/pages/bench/bench_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bench_page {
namespace {

// One coil: code and what it is in the first line, its state in the second. Gives whether it was
// clicked.
bool bin_row(const Look& look, const BinRow& row, float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "coil " + row.code, row.state.word);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (row.in_hand || ImGui::IsItemHovered()) {
        list.AddRectFilled(low, high, ink(theme.raised), look.px(7));
    }
    if (row.in_hand) list.AddRect(low, high, ink(theme.accent), look.px(7), 0, look.px(2));

    const Colour tone = colour_of(row.state.tone, theme);
    const float pad = look.px(8), left = low.x + look.px(34);
    draw_mark(list, row.state.mark, low.x + look.px(18), low.y + height / 2, look.px(7.5F), tone,
              row.in_hand ? theme.raised : theme.card);
    const ClipScope clip(list, {low.x, low.y}, {high.x - look.px(6), high.y});
    put(list, look.fonts.strong, {left, low.y + pad}, ink(theme.text), row.code);
    if (!row.what.empty()) {
        const float code = extent(look.fonts.strong, row.code).x;
        put(list, look.fonts.text, {left + code + look.px(10), low.y + pad}, ink(theme.text),
            cut_to(look.fonts.text, row.what, high.x - left - code - look.px(16)));
    }
    put(list, look.fonts.small, {left, high.y - pad - look.fonts.small->FontSize}, ink(tone),
        row.state.word);
    return clicked;
}

}  // namespace

void draw_bin(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
              float height) {
    const BinView& bin = view.bin;
    const Card card(look, "bin", width, height, "Bin", bin.summary);
    const bool focus = !form.spot && form.frames_to_focus > 0;
    const float field_width = ImGui::GetContentRegionAvail().x;
    const FieldText text{.id = "code",
                         .label = "Code: scan, find or new",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "scan or type",
                         .emptied = std::exchange(form.code_was_emptied, false)};
    const FieldResult result =
        number_field(look, text, {.field_width = field_width}, form.code, focus);
    if (result.active && form.frames_to_focus == 0) form.spot = Spot{};
    if (result.entered) enter_code(view, form, outbox);
    if (!bin.code_error.empty()) {
        wrapped(look, look.fonts.small, bin.code_error, Tone::bad);
        note_item(look, "code error", bin.code_error);
    } else if (!bin.code_note.empty()) {
        wrapped(look, look.fonts.small, bin.code_note, Tone::accent);
        note_item(look, "code note", bin.code_note);
    }

    const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
    const ChildScope list("coils", {0, 0}, false);
    if (bin.rows.empty()) wrapped(look, look.fonts.text, bin.nothing, Tone::muted);
    const float row_height = look.px(56), row_gap = look.px(2);
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, row_gap});
    for (std::size_t at = 0; at < bin.rows.size(); ++at) {
        if (!bin.rows[at].in_hand || form.shown_coil == bin.rows[at].id.text()) continue;
        // The coil in hand is scrolled into sight once, when it becomes the one in hand.
        const float top = static_cast<float>(at) * (row_height + row_gap);
        if (top < ImGui::GetScrollY() ||
            top + row_height > ImGui::GetScrollY() + ImGui::GetWindowHeight()) {
            ImGui::SetScrollY(top - ImGui::GetWindowHeight() / 3);
        }
        form.shown_coil = bin.rows[at].id.text();
    }
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(bin.rows.size()), row_height + row_gap);
    while (clipper.Step()) {
        for (int at = clipper.DisplayStart; at < clipper.DisplayEnd; ++at) {
            const BinRow& row = bin.rows[static_cast<std::size_t>(at)];
            const IdScope id(row.id.text().c_str());
            if (bin_row(look, row, ImGui::GetContentRegionAvail().x, row_height)) {
                outbox.post(ChooseCoil{row.id});
            }
        }
    }
}

}  // namespace coilbook::bench::bench_page
