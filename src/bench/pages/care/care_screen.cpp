#include "bench/pages/care/care_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

#include "bench/pages/care/care_actions.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::care_page {
namespace {

void draw_tasks(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "tasks", width, height, "The catalogue's care");
    const ChildScope rows("rows", {0, 0}, false);
    for (const TaskRow& row : view.tasks) {
        const RowText text{.id = row.name,
                           .head = row.name,
                           .aside = row.key,
                           .below = row.what,
                           .is_at = row.is_at};
        if (list_row(look, text).row) desk.outbox().post(ChooseTask{row.task});
    }
}

void draw_rows(const Look& look, const View& view, Desk& desk, float height) {
    Form& form = desk.form();
    line(look, look.fonts.small, view.rows_title, Tone::muted);
    if (view.rows.empty()) return wrapped(look, look.fonts.text, view.nothing, Tone::muted);
    const ChildScope rows("choices", {0, height}, false);
    for (const ChoiceRow& row : view.rows) {
        const IdScope id(row.id.c_str());
        if (row.is_at && std::exchange(form.scrolls, false)) {
            scroll_to_row(list_row_height(look, !row.below.empty()));
        }
        const RowText text{.id = row.head,
                           .head = row.head,
                           .aside = row.aside,
                           .below = row.below,
                           .is_at = row.is_at};
        if (!list_row(look, text).row) continue;
        (view.task == Task::go_back ? form.backup : form.kind) = row.id;
    }
}

void draw_field(const Look& look, const View& view, Desk& desk) {
    Form& form = desk.form();
    const FieldText text{.id = "file",
                         .label = view.field_label,
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = view.field_hint,
                         .rewritten = std::exchange(form.is_rewritten, false)};
    const float width = std::min(look.px(620), ImGui::GetContentRegionAvail().x);
    const auto field =
        number_field(look, text, {.field_width = width}, form.file, form.frames_to_focus > 0);
    if (field.entered) perform("do it", desk);
    const bool is_wrong = !view.field_error.empty();
    wrapped(look, look.fonts.small, is_wrong ? view.field_error : view.field_note,
            is_wrong ? Tone::bad : Tone::muted);
    note_item(look, "file error", view.field_error);
}

void draw_lines(const Look& look, const View& view, float height) {
    const ChildScope lines("lines", {0, height}, false);
    for (const std::string& each : view.lines) {
        const bool is_below = each.starts_with("  ");  // what the line before it counts
        const float indent = is_below ? look.px(16) : 0;
        ImGui::SetCursorPosX(ImGui::GetCursorPosX() + indent);
        wrapped(look, look.fonts.text, is_below ? each.substr(2) : each,
                is_below ? Tone::muted : Tone::normal);
        note_item(look, "line", each);
    }
}

void draw_task(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "task", width, height);
    line(look, look.fonts.title, view.title);
    wrapped(look, look.fonts.text, view.about, Tone::muted);
    ImGui::Dummy({1, look.px(2)});
    if (!view.field_label.empty()) draw_field(look, view, desk);
    for (const Switch& each : view.switches) {
        if (button(look, {each.action, each.label, each.key})) perform(each.action, desk);
    }
    const float button_room = look.px(50) + look.px(12);
    const float room = ImGui::GetContentRegionAvail().y - button_room;
    if (!view.rows_title.empty()) {
        const float head = look.fonts.small->FontSize + look.px(10);
        const bool is_high = !view.rows.empty() && !view.rows.front().below.empty();
        const float all =
            static_cast<float>(view.rows.size()) * (list_row_height(look, is_high) + look.px(8));
        draw_rows(look, view, desk,
                  std::min(all, (view.lines.empty() ? room : room * 0.5F) - head));
    }
    if (!view.lines.empty()) {
        draw_lines(look, view, ImGui::GetContentRegionAvail().y - button_room);
    }
    ImGui::SetCursorPosY(height - look.px(50) - look.px(14));
    if (button(look, {"do it", view.do_label, "Ctrl Enter"}, Weight::main,
               std::min(look.px(420), ImGui::GetContentRegionAvail().x), look.px(50),
               view.may_do)) {
        perform("do it", desk);
    }
}

}  // namespace

void draw(const Look& look, Desk& desk, bool is_covered) {
    if (!is_covered) watch_keys(desk);
    const View& view = desk.view();
    if (!view.failure.empty() && failure_box(look, view.failure)) {
        desk.outbox().post(CloseFailure{});
    }
    const ImVec2 room = ImGui::GetContentRegionAvail(), start = ImGui::GetCursorPos();
    const float gap = look.px(12), tasks = look.px(350), height = room.y - hint_bar_height(look);
    draw_tasks(look, view, desk, tasks, height);
    ImGui::SetCursorPos({start.x + tasks + gap, start.y});
    draw_task(look, view, desk, room.x - tasks - gap, height);
    static constexpr std::array hints{KeyHint{"F3 … F9", "what to do"}, KeyHint{"↑ ↓", "row"},
                                      KeyHint{"Ctrl Enter", "do it"}, KeyHint{"Esc", "back"},
                                      KeyHint{"F1", "everything"}};
    ImGui::SetCursorPos({start.x, start.y + height + gap});
    hint_bar(look, hints, view.message);
    if (!is_covered && has_lost_keyboard(desk.form().frames_to_focus)) {
        desk.form().frames_to_focus = frames_to_take_focus;
    }
}

}  // namespace coilbook::bench::care_page
