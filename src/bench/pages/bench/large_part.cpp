// The page for cold fingers: one field and the answer, readable at arm's length.
#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/pages/bench/bench_screen.h"
#include "bench/widgets/card.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bench_page {
namespace {

// Every size of type one or two steps larger.
Look with_large_type(const Look& look) {
    Look large = look;
    large.fonts.small = look.fonts.text;
    large.fonts.text = look.fonts.title;
    large.fonts.strong = look.fonts.title;
    return large;
}

// What has been read already, in a few words a line; the field at hand is not among them.
void draw_done(const Look& look, const View& view, const Form& form) {
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(3)});
    for (const ReadingRow& row : view.readings) {
        if (!row.is_saved || form.spot == row.field) continue;
        const std::string value = row.is_list ? row.note : row.kept;
        line_within(look, look.fonts.text, ImGui::GetContentRegionAvail().x,
                    row.label + ": " + value, Tone::muted);
        note_item(look, "done " + std::string(name_of(row.field)), value);
    }
}

void draw_field(const Look& look, const View& view, Form& form, Outbox<Command>& outbox) {
    const Look large = with_large_type(look);
    const float height = look.px(74), width = ImGui::GetContentRegionAvail().x;
    if (form.spot.is_code() || !view.has_coil) {
        draw_code(large, view, form, outbox, height);
        return;
    }
    const FieldPlace place{.field_width = width - look.px(90), .height = height};
    if (form.spot.is_notes()) return draw_notes(large, view, form, outbox, place);
    const auto row = std::ranges::find(view.readings, *form.spot.reading(), &ReadingRow::field);
    if (row != view.readings.end()) draw_reading(large, view, form, outbox, *row, place);
}

void draw_hand(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
               float height) {
    const Card card(look, "hand", width, height);
    if (view.has_coil) {
        line(look, look.fonts.figure, view.coil_code);
        note_item(look, "coil in hand", view.coil_code);
        ImGui::SameLine(0, look.px(14));
        line(look, look.fonts.title, view.coil_state.word, view.coil_state.tone);
        ImGui::Dummy({1, look.px(6)});
    }
    draw_field(look, view, form, outbox);
    ImGui::Dummy({1, look.px(10)});
    if (view.has_coil) draw_done(look, view, form);
}

void draw_answer(const Look& look, const View& view, Outbox<Command>& outbox, float width,
                 float height) {
    const VerdictView& verdict = view.verdict;
    const ImVec2 start = ImGui::GetCursorPos();
    const float gap = look.px(12), decision = look.px(64);
    {
        const Card card(look, "answer", width, height - decision - gap);
        if (!view.has_coil) {
            wrapped(look, look.fonts.title, "Scan a code, or type it.", Tone::muted);
        } else {
            wrapped(look, look.fonts.figure, verdict.headline);
            note_item(look, "verdict", verdict.headline);
            if (!verdict.certainty.empty()) {
                line(look, look.fonts.figure, verdict.certainty, verdict.state.tone);
            }
            wrapped(look, look.fonts.title, verdict.gist, Tone::muted);
            for (const FlagRow& flag : verdict.flags) {
                wrapped(look, look.fonts.title, flag.words, flag.tone);
            }
            ImGui::Dummy({1, look.px(4)});
            wrapped(look, look.fonts.title, verdict.next_reading,
                    verdict.is_enough ? Tone::good : Tone::accent);
            note_item(look, "next reading", verdict.next_reading);
            wrapped(look, look.fonts.text, verdict.fishes_like);
        }
    }
    if (!view.has_coil) return;
    ImGui::SetCursorPos({start.x, start.y + height - decision});
    draw_decision(look, view, outbox, width, decision);
}

}  // namespace

void draw_large(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                float width, float height) {
    const ImVec2 start = ImGui::GetCursorPos();
    const float gap = look.px(12), left = (width - gap) / 2;
    draw_hand(look, view, form, outbox, left, height);
    ImGui::SetCursorPos({start.x + left + gap, start.y});
    draw_answer(look, view, outbox, left, height);
    ImGui::SetCursorPos({start.x, start.y + height + gap});
}

}  // namespace coilbook::bench::bench_page
