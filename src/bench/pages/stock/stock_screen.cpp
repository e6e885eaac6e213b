#include "bench/pages/stock/stock_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "bench/outfit_page.h"
#include "bench/pages/stock/stock_actions.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/entry_form.h"
#include "bench/widgets/field.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::stock_page {
namespace {

std::span<const KeyHint> hints_of(const Form& form) {
    static constexpr std::array stock{
        KeyHint{"Enter", "where it is"}, KeyHint{"Ctrl B", "to the bench"},
        KeyHint{"↑ ↓", "class"},         KeyHint{"F6", "losses"},
        KeyHint{"Ctrl Z", "undo"},       KeyHint{"F1", "everything"},
    };
    static constexpr std::array losses{
        KeyHint{"Enter", "where it is"},    KeyHint{"F5", "stock"},
        KeyHint{"F7", "by boat, by class"}, KeyHint{"F4", "season"},
        KeyHint{"Ctrl S", "save them"},     KeyHint{"F1", "everything"},
    };
    static constexpr std::array entry{
        KeyHint{"Enter", "next field"},
        KeyHint{"Ctrl Enter", "save"},
        KeyHint{"Esc", "back"},
        KeyHint{"F1", "everything"},
    };
    if (form.entry) return entry;
    return form.task == Task::stock ? std::span<const KeyHint>(stock) : losses;
}

void draw_main(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "main", width, height);
    const float gap = look.px(8), half = look.px(190);
    const bool is_stock = view.task == Task::stock;
    if (button(look, {"stock", "Stock", "F5"}, is_stock ? Weight::main : Weight::plain, half)) {
        perform("stock", desk);
    }
    ImGui::SameLine(0, gap);
    if (button(look, {"losses", "Losses", "F6"}, is_stock ? Weight::plain : Weight::main, half)) {
        perform("losses", desk);
    }
    line(look, look.fonts.strong, view.title);
    note_item(look, "title", view.title);
    ImGui::SameLine();
    line_within(look, look.fonts.small, ImGui::GetContentRegionAvail().x, view.aside, Tone::muted);
    const float room = ImGui::GetContentRegionAvail().y;
    is_stock ? draw_table(look, view, desk, room) : draw_losses(look, view, desk, room);
}

}  // namespace

void draw_where(const Look& look, const View& view, Desk& desk, float width, float height) {
    Form& form = desk.form();
    const Card card(look, "where", width, height);
    const float inside = ImGui::GetContentRegionAvail().x, gap = look.px(8);
    if (form.entry) {
        if (draw_entry_form(look, *form.entry)) desk.outbox().post(SaveSeason{});
        const float half = (inside - gap) / 2;
        if (button(look, {"save", "Save", "Ctrl Enter"}, Weight::main, half)) perform("save", desk);
        ImGui::SameLine(0, gap);
        if (button(look, {"back", "Back", "Esc"}, Weight::plain, half)) perform("back", desk);
        return;
    }
    const FieldText text{.id = "code",
                         .label = "Where is it? Scan or type a code",
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "scan or type",
                         .rewritten = std::exchange(form.is_rewritten, false)};
    const auto field =
        number_field(look, text, {.field_width = inside}, form.code, form.frames_to_focus > 0);
    if (field.entered) desk.outbox().post(EnterCode{form.code});
    if (!view.code_error.empty()) {
        wrapped(look, look.fonts.small, view.code_error, Tone::bad);
        note_item(look, "code error", view.code_error);
    }
    const float button_room = view.may_go_to_bench ? look.px(44) + gap : 0;
    {
        const ChildScope words("words", {0, ImGui::GetContentRegionAvail().y - button_room}, false);
        if (!view.answer.empty()) {
            wrapped(look, look.fonts.strong, view.answer);
            note_item(look, "answer", view.answer);
            for (const auto& each : view.record) {
                wrapped(look, look.fonts.small,
                        each.when + "  " + each.place + (each.note.empty() ? "" : ", " + each.note),
                        Tone::muted);
            }
            ImGui::Dummy({1, look.px(6)});
        }
        if (view.task == Task::stock && !view.things.empty()) {
            line(look, look.fonts.strong, view.class_title);
            for (const auto& [code, place] : view.things) {
                const float x = ImGui::GetCursorPosX();
                line(look, look.fonts.text, code);
                ImGui::SameLine();
                ImGui::SetCursorPosX(std::max(x + look.px(96), ImGui::GetCursorPosX()));
                line_within(look, look.fonts.text, ImGui::GetContentRegionAvail().x, place,
                            Tone::muted);
            }
        }
        if (view.task == Task::losses) {
            line(look, look.fonts.strong, "Gone, and what is left");
            if (view.replace.empty()) wrapped(look, look.fonts.text, view.nothing, Tone::muted);
            for (const auto& each : view.replace) wrapped(look, look.fonts.text, each);
            ImGui::Dummy({1, look.px(6)});
            wrapped(look, look.fonts.small,
                    "Buy or cut what you miss. Cut, do not sand; wipe wet, wash your hands: the "
                    "dust of lead and tungsten harms, children first.",
                    Tone::muted);
        }
    }
    if (view.may_go_to_bench &&
        button(look, {"take to the bench", "Take it to the bench", "Ctrl B"}, Weight::plain,
               inside)) {
        perform("take to the bench", desk);
    }
}

void draw(const Look& look, Desk& desk, bool is_covered) {
    if (!is_covered) {
        watch_keys(desk);
        watch_arrows<StepRow>(desk);
    }
    const View& view = desk.view();
    if (!view.failure.empty() && failure_box(look, view.failure)) {
        desk.outbox().post(CloseFailure{});
    }
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float gap = look.px(12), where = look.px(360);
    const float height = room.y - hint_bar_height(look);
    const ImVec2 start = ImGui::GetCursorPos();
    draw_main(look, view, desk, room.x - where - gap, height);
    ImGui::SetCursorPos({start.x + room.x - where, start.y});
    draw_where(look, view, desk, where, height);
    ImGui::SetCursorPos({start.x, start.y + height + gap});
    hint_bar(look, hints_of(desk.form()), view.message);
    keep_keyboard(desk.form(), is_covered);
}

}  // namespace coilbook::bench::stock_page
