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

// One coil: its code and how sure it is in the first line, what it is in the second. Gives whether
// it was clicked.
bool bin_row(const Look& look, const BinRow& row, float width, float height) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    const bool clicked = ImGui::InvisibleButton("row", {width, height});
    note_item(look, "coil " + row.code, row.state.word);
    const bool hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (row.in_hand || hovered) list.AddRectFilled(low, high, ink(theme.raised), look.px(7));
    if (row.in_hand) list.AddRect(low, high, ink(theme.accent), look.px(7), 0, look.px(2));

    const Colour tone = colour_of(row.state.tone, theme);
    const float pad = look.px(8), left = low.x + look.px(34), right = high.x - pad;
    draw_mark(list, row.state.mark, low.x + look.px(18), low.y + height / 2, look.px(7.5F), tone,
              row.in_hand ? theme.raised : theme.card);
    ImFont* font = look.fonts.small;
    const float baseline = low.y + pad + look.fonts.strong->Ascent - font->Ascent;
    const float amount = extent(font, row.amount).x;
    const bool fits = left + extent(look.fonts.strong, row.code).x + pad + amount <= right;
    put(list, look.fonts.strong, {left, low.y + pad}, ink(theme.text),
        cut_to(look.fonts.strong, row.code, right - left));
    if (fits) put(list, font, {right - amount, baseline}, ink(tone), row.amount);
    put(list, font, {left, high.y - pad - font->FontSize}, ink(theme.text),
        cut_to(font, row.what, right - left));
    if (hovered) {
        const TooltipScope tip;
        ImGui::TextUnformatted(row.whole.c_str());
    }
    return clicked;
}

// What the shapes mean that no row says in words.
void draw_legend(const Look& look, const std::vector<StateView>& states) {
    for (const StateView& state : states) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        draw_mark(*ImGui::GetWindowDrawList(), state.mark, at.x + look.px(18),
                  at.y + look.fonts.small->FontSize / 2, look.px(6),
                  colour_of(state.tone, *look.theme), look.theme->card);
        ImGui::SetCursorScreenPos({at.x + look.px(34), at.y});
        line(look, look.fonts.small, state.word, Tone::muted);
    }
}

// The coils, `height` pixels of them at a time.
void draw_list(const Look& look, const BinView& bin, Form& form, Outbox<Command>& outbox,
               float height) {
    const ChildScope list("coils", {0, height}, false);
    if (bin.rows.empty()) wrapped(look, look.fonts.text, bin.nothing, Tone::muted);
    const float row_height = look.px(56), row_gap = look.px(2);
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, row_gap});
    // The coil in hand is scrolled into sight once, when it becomes the one in hand.
    const std::string held = bin.in_hand ? bin.rows[*bin.in_hand].id.text() : std::string();
    if (bin.in_hand && form.shown_coil != held) {
        const float top = static_cast<float>(*bin.in_hand) * (row_height + row_gap);
        if (top < ImGui::GetScrollY() ||
            top + row_height > ImGui::GetScrollY() + ImGui::GetWindowHeight()) {
            ImGui::SetScrollY(top - ImGui::GetWindowHeight() / 3);
        }
        form.shown_coil = held;
    }
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(bin.rows.size()), row_height + row_gap);
    while (clipper.Step()) {
        for (int at = clipper.DisplayStart; at < clipper.DisplayEnd; ++at) {
            const BinRow row = bin.rows[static_cast<std::size_t>(at)];
            const IdScope id(row.id.text().c_str());
            if (bin_row(look, row, ImGui::GetContentRegionAvail().x, row_height)) {
                outbox.post(ChooseCoil{row.id});
            }
        }
    }
}

}  // namespace

void draw_code(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
               float height) {
    const BinView& bin = view.bin;
    const bool focus = form.spot.is_code() && form.frames_to_focus > 0;
    const float field_width = ImGui::GetContentRegionAvail().x;
    const FieldText text{.id = "code",
                         .label = "Code: scan, find or new",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "scan or type",
                         .rewritten = std::exchange(form.code_was_emptied, false)};
    const FieldResult result =
        number_field(look, text, {.field_width = field_width, .height = height}, form.code, focus);
    if (result.active && form.frames_to_focus == 0) form.spot = Spot{};
    if (result.entered) enter_code(view, form, outbox);
    if (!bin.code_error.empty()) {
        wrapped(look, look.fonts.small, bin.code_error, Tone::bad);
        note_item(look, "code error", bin.code_error);
    } else if (!bin.code_note.empty()) {
        wrapped(look, look.fonts.small, bin.code_note, Tone::accent);
        note_item(look, "code note", bin.code_note);
    }
}

void draw_bin(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
              float height) {
    const BinView& bin = view.bin;
    const Card card(look, "bin", width, height, "Bin", bin.summary);
    draw_code(look, view, form, outbox, 0);
    {
        const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
        const float lines = static_cast<float>(bin.legend.size());
        const float legend = lines * (look.fonts.small->FontSize + look.px(3)) + look.px(8);
        draw_list(look, bin, form, outbox, ImGui::GetContentRegionAvail().y - legend);
    }
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    draw_legend(look, bin.legend);
}

}  // namespace coilbook::bench::bench_page
