// The middle of the page: which task, the field for codes, and the rows of the list.
#include <imgui.h>

#include <array>
#include <utility>

#include "bench/pages/day/day_actions.h"
#include "bench/pages/day/day_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::day_page {
namespace {

void draw_tasks(const Look& look, const View& view, Desk& desk) {
    static constexpr std::array<std::pair<const char*, const char*>, 4> tasks{
        {{"plan", "F5"}, {"pack", "F6"}, {"come back", "F7"}, {"people", "F9"}}};
    const float gap = look.px(8);
    // The third label, which has a number in it, needs more room.
    const std::array<float, 4> shares{0.18F, 0.18F, 0.34F, 0.30F};
    const float width = ImGui::GetContentRegionAvail().x - 3 * gap;
    for (std::size_t at = 0; at < tasks.size(); ++at) {
        if (at > 0) ImGui::SameLine(0, gap);
        const auto& [action, key] = tasks[at];
        const bool is_on = static_cast<std::size_t>(view.task) == at;
        if (button(look, {action, view.task_labels[at], key}, is_on ? Weight::main : Weight::plain,
                   width * shares[at])) {
            perform(action, desk);
        }
    }
}

void draw_code(const Look& look, const View& view, Desk& desk) {
    Form& form = desk.form();
    const FieldText text{.id = "code",
                         .label = view.code_label,
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "scan or type",
                         .rewritten = std::exchange(form.is_rewritten, false)};
    const float width = ImGui::GetContentRegionAvail().x;
    const bool focus = !form.entry && form.frames_to_focus > 0;
    const auto field = number_field(look, text, {.field_width = width}, form.code, focus);
    if (field.entered) desk.outbox().post(EnterCode{form.code});
    if (!view.code_error.empty()) {
        wrapped(look, look.fonts.small, view.code_error, Tone::bad);
        note_item(look, "code error", view.code_error);
    } else if (!view.code_note.empty()) {
        wrapped(look, look.fonts.small, view.code_note, Tone::accent);
        note_item(look, "code note", view.code_note);
    }
}

// What can be done with the row that the keyboard is on.
void draw_row_buttons(const Look& look, const View& view, Desk& desk) {
    const float gap = look.px(8);
    struct Choice {
        const char* action;
        std::string_view label;
        const char* key;
        bool enabled;
    };
    const bool is_people = view.task == Task::people;
    const bool is_back = view.task == Task::back;
    const std::array<Choice, 4> choices{
        Choice{is_people ? "change person" : "tick",
               is_people ? "Change"
               : is_back ? "It is back"
                         : "Tick",
               is_people ? "F3" : "Ctrl Space", is_people ? view.row_is_person : view.row_may_tick},
        Choice{is_people ? "end person" : "drop",
               is_people ? std::string_view(view.end_label) : "Off the plan",
               is_people ? "" : "Ctrl D", is_people ? view.row_is_person : view.row_may_drop},
        Choice{is_people ? "new boat" : "lost", is_people ? "Add a boat" : "Lost",
               is_people ? "Ctrl B" : "Ctrl L", is_people || view.row_may_note},
        Choice{is_people ? "new client" : "damaged", is_people ? "Add a client" : "Damaged",
               is_people ? "Ctrl K" : "Ctrl M", is_people || view.row_may_note}};
    const float width = ImGui::GetContentRegionAvail().x;
    const std::size_t count = is_back ? 3 : 4;
    const float each = (width - gap * static_cast<float>(count - 1)) / static_cast<float>(count);
    bool is_first = true;
    for (const Choice& choice : choices) {
        if (is_back && choice.action == std::string_view("drop")) continue;
        if (!is_first) ImGui::SameLine(0, gap);
        is_first = false;
        if (button(look, {choice.action, choice.label, choice.key}, Weight::plain, each, 0,
                   choice.enabled)) {
            perform(choice.action, desk);
        }
    }
}

}  // namespace

void draw_rows(const Look& look, const View& view, Desk& desk, float width, float height) {
    Form& form = desk.form();
    const Card card(look, "list", width, height);
    draw_tasks(look, view, desk);
    line(look, look.fonts.strong, view.title);
    note_item(look, "title", view.title);
    if (!view.aside.empty()) {
        ImGui::SameLine();
        line(look, look.fonts.small, view.aside, Tone::muted);
    }
    draw_code(look, view, desk);
    const float buttons = look.px(44) + look.px(8);
    {
        const ChildScope rows("rows", {0, ImGui::GetContentRegionAvail().y - buttons}, false);
        if (view.rows.empty()) {
            wrapped(look, look.fonts.text, view.nothing, Tone::muted);
            note_item(look, "nothing", view.nothing);
        }
        const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
        for (const RowView& row : view.rows) {
            if (row.is_at && std::exchange(form.scrolls, false)) {
                scroll_to_row(list_row_height(look, false));
            }
            const auto clicked = list_row(look, {.id = row.key,
                                                 .head = row.head,
                                                 .words = row.words,
                                                 .aside = row.aside,
                                                 .tick = row.tick,
                                                 .tone = row.tone,
                                                 .is_at = row.is_at,
                                                 .is_within = row.is_within,
                                                 .head_width = row.head.empty() ? 0.0F : 92.0F});
            if (clicked.row) form.row = row.key;
            if (clicked.tick) desk.outbox().post(TickRow{});
        }
    }
    draw_row_buttons(look, view, desk);
}

}  // namespace coilbook::bench::day_page
