// A study: how it is set up, who reads what next, and what came out.
#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/pages/instruments/instruments_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::instruments_page {
namespace {

// One of an earlier start, which comes before another one.
void draw_unfinished(const Look& look, const Place& at) {
    draw_sentence(look, "unfinished", {at.view.study.unfinished, Tone::accent, Mark::diamond});
    const float half = (ImGui::GetContentRegionAvail().x - look.px(10)) / 2;
    if (button(look, {"go on with study", "Go on with it", "Ctrl R"}, Weight::main, half,
               look.px(44))) {
        perform("go on with study", at);
    }
    ImGui::SameLine(0, look.px(10));
    if (button(look, {"throw study away", "Throw it away", {}}, Weight::plain, half, look.px(44))) {
        perform("throw study away", at);
    }
}

void draw_set_up(const Look& look, const Place& at) {
    const StudyView& view = at.view.study;
    StudyDraft& study = at.form.study;
    wrapped(look, look.fonts.text,
            "Can your readings tell these coils apart, and how much of what differs is you and the "
            "instrument? Several people read several coils, each more than once.",
            Tone::muted);
    if (!view.unfinished.empty()) draw_unfinished(look, at);
    ImGui::Dummy({1, look.px(2)});
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(10)});
    const float inside = ImGui::GetContentRegionAvail().x;
    const FieldPlace place{look.px(146), inside - look.px(146), look.px(44), 0};
    const FieldText text{.id = "study kind",
                         .label = "Read with a",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = {},
                         .rewritten = at.form.rewritten == Spot::study_kind};
    const bool focus = at.form.spot == Spot::study_kind && at.form.frames_to_focus > 0;
    const auto result =
        choice_field(look, text, place, view.kinds, view.kind, study.kind_text, focus);
    if (result.active && at.form.frames_to_focus == 0) at.form.spot = Spot::study_kind;
    const auto picked = std::ranges::find(view.kinds, std::string_view(study.kind_text));
    if (picked != view.kinds.end()) {
        pick_kind(at.form,
                  app::all_instrument_kinds[static_cast<std::size_t>(picked - view.kinds.begin())]);
    }
    if (result.entered) enter_study_field(at.form, Spot::study_kind, at.outbox);
    const auto field = [&](Spot spot, const char* id, const Field& each, TypedText& typed) {
        FieldPlace here = place;
        if (!each.error.empty()) here.field_width = place.field_width * 0.55F;
        if (spot == Spot::times) here.field_width = look.px(100);
        if (draw_field(look, at, spot, id, each, typed.text, here)) {
            enter_study_field(at.form, spot, at.outbox);
        }
    };
    field(Spot::people, "people", view.people, study.people);
    field(Spot::coils, "coils", view.coils, study.coils);
    field(Spot::times, "times", view.times, study.times);
    const float half = (inside - look.px(10)) / 2;
    if (button(look, {"order", study.is_shuffled ? "Order: shuffled" : "Order: as they stand", {}},
               Weight::plain, half, look.px(44))) {
        study.is_shuffled = !study.is_shuffled;
        go_to(at.form, at.form.spot);
    }
    ImGui::SameLine(0, look.px(10));
    const std::string unit = "Typed in " + view.unit;
    if (button(look, {"other unit", unit, view.other_unit.empty() ? "" : "F3"}, Weight::plain, half,
               look.px(44), !view.other_unit.empty())) {
        perform("other unit", at);
    }
    wrapped(look, look.fonts.text, view.plan, view.can_begin ? Tone::normal : Tone::muted);
    note_item(look, "plan", view.plan);
    if (view.can_begin) help_on_item(look, view.plan_help);
    if (button(look, {"save", "Begin the study", "Ctrl Enter"}, Weight::main, inside, look.px(50),
               view.can_begin)) {
        perform("save", at);
    }
}

void draw_turn(const Look& look, const Place& at) {
    const StudyView& view = at.view.study;
    const Theme& theme = *look.theme;
    if (!view.hand_over.empty()) {
        draw_sentence(look, "hand over", {view.hand_over, Tone::accent, Mark::diamond});
    }
    const float inside = ImGui::GetContentRegionAvail().x, pad = look.px(14);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float high = look.fonts.title->FontSize + look.fonts.small->FontSize + look.px(30);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(low, {low.x + inside, low.y + high}, ink(theme.accent, 0.12F), look.px(7));
    list.AddRectFilled(low, {low.x + look.px(4), low.y + high}, ink(theme.accent), look.px(2));
    put(list, look.fonts.title, {low.x + pad, low.y + look.px(10)}, ink(theme.text),
        cut_to(look.fonts.title, view.turn, inside - 2 * pad));
    put(list, look.fonts.small, {low.x + pad, low.y + look.px(16) + look.fonts.title->FontSize},
        ink(theme.muted), view.progress);
    ImGui::Dummy({inside, high});
    note_item(look, "turn", view.turn);
    const FieldPlace place{look.px(116), look.px(170), look.px(48), 0};
    if (draw_field(look, at, Spot::study_reading, "study reading", view.reading,
                   at.form.study.reading.text, place)) {
        enter_study_reading(at.form);
    }
}

// A reading in the table, of which a click asks once more.
void draw_table_reading(const Look& look, Form& form, const StudyCell::Reading& reading, ImVec2 low,
                        float height) {
    const Theme& theme = *look.theme;
    const ImVec2 size = extent(look.fonts.text, reading.text);
    ImGui::SetCursorScreenPos({low.x, low.y});
    const std::string id = "read again " + std::to_string(reading.number);
    if (ImGui::InvisibleButton(id.c_str(), {size.x + look.px(12), height})) {
        read_again(form, reading.number);
    }
    note_item(look, id, reading.text);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered() || form.study.again == reading.number) {
        list.AddRectFilled({low.x, low.y + look.px(3)},
                           {low.x + size.x + look.px(12), low.y + height - look.px(3)},
                           ink(theme.raised), look.px(6));
        if (ImGui::IsItemHovered()) {
            const TooltipScope tip;
            ImGui::TextUnformatted("Click: read it once more");
        }
    }
    put(list, look.fonts.text, {low.x + look.px(6), low.y + (height - size.y) / 2}, ink(theme.text),
        reading.text);
}

float width_of(const Look& look, const StudyCell& cell) {
    float width = extent(look.fonts.text, cell.text).x + look.px(20);
    float readings = look.px(14);
    for (const auto& each : cell.readings) {
        readings += extent(look.fonts.text, each.text).x + look.px(14);
    }
    return std::max(width, readings);
}

// Coils down, people across.
void draw_table(const Look& look, const StudyView& view, Form& form) {
    const Theme& theme = *look.theme;
    const ChildScope scroll("study table", {0, ImGui::GetContentRegionAvail().y}, false,
                            ImGuiWindowFlags_HorizontalScrollbar);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float first = look.px(90), row_height = look.px(32);
    float cell = look.px(110);
    for (const StudyRow& row : view.table) {
        for (const StudyCell& each : row.cells) cell = std::max(cell, width_of(look, each));
    }
    const float inside = ImGui::GetContentRegionAvail().x;
    const auto people = static_cast<float>(view.people_names.size());
    cell = std::max(cell, std::min((inside - first) / people, look.px(200)));
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    for (std::size_t at = 0; at < view.people_names.size(); ++at) {
        put(list, look.fonts.small,
            {corner.x + first + cell * static_cast<float>(at) + look.px(10), corner.y},
            ink(theme.muted), cut_to(look.fonts.small, view.people_names[at], cell - look.px(14)));
    }
    float y = corner.y + look.fonts.small->FontSize + look.px(6);
    for (const StudyRow& row : view.table) {
        list.AddLine({corner.x, y}, {corner.x + first + cell * people, y}, ink(theme.grid),
                     look.px(1));
        put(list, look.fonts.strong, {corner.x, y + (row_height - look.fonts.strong->FontSize) / 2},
            ink(theme.text), cut_to(look.fonts.strong, row.coil, first - look.px(6)));
        for (std::size_t at = 0; at < row.cells.size(); ++at) {
            const StudyCell& each = row.cells[at];
            const ImVec2 low{corner.x + first + cell * static_cast<float>(at), y};
            if (each.at_hand) {
                list.AddRect({low.x + look.px(2), low.y + look.px(3)},
                             {low.x + cell - look.px(3), low.y + row_height - look.px(3)},
                             ink(theme.accent), look.px(6), 0, look.px(2));
            }
            put(list, look.fonts.text,
                {low.x + look.px(10), y + (row_height - look.fonts.text->FontSize) / 2},
                ink(theme.text), each.text);
            float x = low.x + look.px(4);
            for (const auto& reading : each.readings) {
                draw_table_reading(look, form, reading, {x, y}, row_height);
                x += extent(look.fonts.text, reading.text).x + look.px(14);
            }
        }
        y += row_height;
    }
    ImGui::SetCursorScreenPos(corner);
    ImGui::Dummy({first + cell * people, y - corner.y});
}

// A part of what differs: what it is and how large, and its share as a bar.
void draw_part(const Look& look, const PartRow& part) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float inside = ImGui::GetContentRegionAvail().x, text = look.fonts.text->FontSize;
    const float height = text + look.px(22);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const Colour colour = theme.series[part.series];
    draw_mark(list, part.mark, low.x + look.px(8), low.y + text / 2, look.px(5.5F), colour,
              theme.card);
    const float amount = extent(look.fonts.text, part.amount).x;
    put(list, look.fonts.text, {low.x + look.px(24), low.y}, ink(theme.text),
        cut_to(look.fonts.text, part.name, inside - amount - look.px(34)));
    put(list, look.fonts.text, {low.x + inside - amount, low.y}, ink(theme.text), part.amount);
    const float y = low.y + text + look.px(7), thick = look.px(9);
    const float percent = extent(look.fonts.small, "100.0 %").x;
    const ImVec2 from{low.x + look.px(24), y};
    const float track = inside - look.px(34) - percent;
    list.AddRectFilled(from, {from.x + track, y + thick}, ink(theme.raised), thick / 2);
    const float length = static_cast<float>(std::clamp(part.share, 0.0, 1.0)) * track;
    if (length > 0) {
        list.AddRectFilled(from, {from.x + std::max(length, thick), y + thick}, ink(colour),
                           thick / 2);
    }
    put(list, look.fonts.small,
        {low.x + inside - extent(look.fonts.small, part.percent).x,
         y + thick / 2 - look.fonts.small->FontSize / 2},
        ink(theme.muted), part.percent);
    ImGui::Dummy({inside, height});
    note_item(look, "part " + part.name, part.amount + ", " + part.percent);
    help_on_item(look, part.help);
}

}  // namespace

void draw_study(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "study", width, height);
    const StudyView& view = at.view.study;
    line(look, look.fonts.title, "A study of readings");
    ImGui::Dummy({1, look.px(2)});
    if (!view.is_going) return draw_set_up(look, at);
    if (view.asks) draw_turn(look, at);
    if (!view.is_done) {
        wrapped(look, look.fonts.small,
                "Do not tell one another what you read; the numbers are shown when all is read.",
                Tone::muted);
    } else if (!view.asks) {
        wrapped(look, look.fonts.text,
                "All is read. A number that looks wrong can be clicked and read once more.",
                Tone::muted);
        const float inside = ImGui::GetContentRegionAvail().x, gap = look.px(10);
        const bool is_kept = !at.form.study.kept_as.empty();
        if (button(look,
                   {"save", is_kept ? "Written to a file" : "Write it to a file", "Ctrl Enter"},
                   Weight::main, (inside - gap) / 2, look.px(46), !is_kept)) {
            perform("save", at);
        }
        ImGui::SameLine(0, gap);
        if (button(look, {"new study", "Another study", {}}, Weight::plain, (inside - gap) / 2,
                   look.px(46))) {
            perform("new study", at);
        }
    }
    ImGui::Dummy({1, look.px(4)});
    draw_table(look, view, at.form);
}

void draw_study_result(const Look& look, const Place& at, float width, float height) {
    const StudyView& view = at.view.study;
    const Card card(look, "study result", width, height, "What differs");
    ImGui::Spacing();
    if (!view.is_done) {
        wrapped(look, look.fonts.text,
                "When everybody has read every coil, it says here how much of what differs comes "
                "from reading and how much from the coils, and whether that is good enough.",
                Tone::muted);
        return;
    }
    wrapped(look, look.fonts.strong, view.judgement);
    note_item(look, "judgement", view.judgement);
    help_on_item(look, view.judgement_help);
    ImGui::Dummy({1, look.px(4)});
    for (const PartRow& part : view.parts) draw_part(look, part);
    wrapped(look, look.fonts.small,
            "At the right one standard deviation; per cent are of the variance, which adds up.",
            Tone::muted);
    ImGui::Dummy({1, look.px(4)});
    for (const std::string& each : view.sentences) {
        wrapped(look, look.fonts.text, each);
        note_item(look, "sentence", each);
    }
}

}  // namespace coilbook::bench::instruments_page
