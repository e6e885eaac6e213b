// The readings of the coil in hand: one field each, in the order in which they are taken.
#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/pages/bench/bench_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::bench_page {
namespace {

void draw_head(const Look& look, const View& view) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    line(look, look.fonts.title, view.coil_code);
    note_item(look, "coil in hand", view.coil_code);
    ImGui::SameLine(0, look.px(14));
    const float middle = at.y + look.fonts.title->FontSize / 2;
    const float x = ImGui::GetCursorScreenPos().x;
    const Colour tone = colour_of(view.coil_state.tone, *look.theme);
    draw_mark(*ImGui::GetWindowDrawList(), view.coil_state.mark, x + look.px(7), middle, look.px(7),
              tone, look.theme->card);
    ImGui::SetCursorScreenPos({x + look.px(22), middle - look.fonts.text->FontSize / 2});
    line(look, look.fonts.text, view.coil_state.word, view.coil_state.tone);
    note_item(look, "coil state", view.coil_state.word);
    ImGui::SetCursorScreenPos({at.x, at.y + look.fonts.title->FontSize + look.px(12)});
}

void draw_first_steps(const Look& look, const std::vector<std::string>& steps) {
    const StyleScope apart(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(12)});
    for (std::size_t at = 0; at < steps.size(); ++at) {
        const ImVec2 start = ImGui::GetCursorScreenPos();
        line(look, look.fonts.strong, std::to_string(at + 1), Tone::accent);
        ImGui::SetCursorScreenPos({start.x + look.px(26), start.y});
        wrapped(look, look.fonts.text, steps[at]);
        note_item(look, "step", steps[at]);
    }
}

// Which instruments are on the bench, where the catalogue has more than one of a kind.
void draw_tools(const Look& look, const View& view, Form& form, float height) {
    for (const ToolRow& row : view.tools) {
        if (&row != &view.tools.front()) ImGui::SameLine(0, look.px(8));
        const std::string id = "tool " + row.key;
        if (button(look, {id, row.says, row.key}, Weight::plain, 0, height)) {
            use_next(view, form, row.tool);
        }
    }
}

}  // namespace

void draw_reading(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                  const ReadingRow& row, FieldPlace place) {
    // Only the field at hand has the button, and keeps room for it.
    const bool may_take_back = row.is_saved && form.spot == row.field;
    const float side = place.height, inside = ImGui::GetContentRegionAvail().x;
    place.kept_free = may_take_back ? side + look.px(6) : 0;
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const std::string id(name_of(row.field));
    const FieldText text{.id = id,
                         .label = row.label,
                         .unit = row.unit,
                         .note = row.note,
                         .error = row.error,
                         .hint = row.hint,
                         .saved = row.is_saved,
                         .wanted = row.is_wanted,
                         .takes_space = row.takes_space,
                         .rewritten = form.rewritten == row.field,
                         .help = row.help};
    const bool focus = form.spot == row.field && form.frames_to_focus > 0;
    std::string& typed = form.typed.text(row.field);
    FieldResult result;
    if (row.choices.empty()) {
        result = number_field(look, text, place, typed, focus);
    } else {
        const float room = inside - place.label_width;
        const bool has_words = !row.error.empty() || !row.note.empty();
        place.field_width =
            has_words && place.label_width > 0 ? room * 0.6F : room - place.kept_free;
        place.field_width =
            std::min(place.field_width, look.px(80) * static_cast<float>(row.choices.size()));
        result = choice_field(look, text, place, row.choices, row.picked, typed, focus);
    }
    if (result.active && form.frames_to_focus == 0) form.spot = row.field;
    if (result.space || (result.entered && row.is_running)) {
        outbox.post(PressStopwatch{});
    } else if (result.entered) {
        enter_reading(view, form, row.field, outbox);
    }
    if (!may_take_back) return;
    const ImVec2 end = ImGui::GetCursorScreenPos();
    const float above = place.label_width > 0 ? 0 : look.fonts.small->FontSize + look.px(4);
    ImGui::SetCursorScreenPos({start.x + inside - side, start.y + above});
    if (mark_button(look, "take back " + id, Mark::cross, "Take back (Ctrl T)", side)) {
        take_back(view, form, outbox);
    }
    ImGui::SetCursorScreenPos(end);
}

void draw_notes(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                FieldPlace place) {
    const float room = ImGui::GetContentRegionAvail().x - place.label_width;
    const bool has_words = !view.notes.note.empty() || !view.notes.error.empty();
    place.field_width = has_words && place.label_width > 0 ? room * 0.65F : room;
    const FieldText text{.id = "notes",
                         .label = "Notes",
                         .unit = {},
                         .note = view.notes.note,
                         .error = view.notes.error,
                         .hint = "anything worth knowing of it",
                         .saved = !view.notes.stored.empty()};
    const bool focus = form.spot.is_notes() && form.frames_to_focus > 0;
    const FieldResult result = number_field(look, text, place, form.typed.notes, focus);
    if (result.active && form.frames_to_focus == 0) form.spot = Spot::notes();
    if (result.entered) enter_notes(view, form, outbox);
}

void draw_readings(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
                   float width, float height) {
    const Card card(look, "readings", width, height);
    if (!view.has_coil) {
        line(look, look.fonts.title, view.bin.first_steps.empty() ? "No coil in hand" : "To begin");
        ImGui::Spacing();
        if (!view.bin.first_steps.empty()) return draw_first_steps(look, view.bin.first_steps);
        wrapped(look, look.fonts.text,
                "Scan or type a code at the left and press Enter. A code that is new makes a new "
                "coil; one that is known picks that coil up.",
                Tone::muted);
        return;
    }
    draw_head(look, view);
    const float room = ImGui::GetContentRegionAvail().y;
    // A row each, with one for the notes and, where there is a choice, one for the instruments.
    const std::size_t rows = view.readings.size() + (view.tools.empty() ? 1 : 2);
    const float step = std::clamp(room / static_cast<float>(rows), look.px(41), look.px(56));
    const float gap = look.px(7);
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), gap});
    const float inside = ImGui::GetContentRegionAvail().x;
    const FieldPlace number{look.px(182), std::min(inside * 0.27F, look.px(160)), step - gap};
    for (const ReadingRow& row : view.readings) draw_reading(look, view, form, outbox, row, number);
    draw_notes(look, view, form, outbox, number);
    draw_tools(look, view, form, number.height);
}

}  // namespace coilbook::bench::bench_page
