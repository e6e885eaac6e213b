// Changing a class, adding one, splitting one, joining two: the fields, and what it would do.
#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/pages/library/library_actions.h"
#include "bench/pages/library/library_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::library_page {
namespace {

int picked_of(const std::vector<std::string_view>& words, const std::string& typed) {
    for (std::size_t at = 0; at < words.size(); ++at) {
        if (!typed.empty() && words[at].starts_with(typed)) return static_cast<int>(at);
    }
    return -1;
}

// Whether Enter was pressed in it, and whether that wrote more into it than was typed.
struct Entered {
    bool is_done = false, was_completed = false;
};
Entered draw_task_field(const Look& look, const TaskView::Field& field, std::size_t at, Form& form,
                        float width) {
    const std::string id = "task " + std::to_string(at);
    const FieldText text{.id = id,
                         .label = field.label,
                         .unit = field.unit,
                         .note = {},
                         .error = field.is_wrong ? std::string_view(" ") : std::string_view(),
                         .hint = field.hint,
                         .rewritten = form.was_rewritten};
    const bool focus = form.field == at && form.frames_to_focus > 0;
    const float unit = field.unit.empty() ? 0 : look.px(field.unit.size() > 1 ? 46 : 24);
    const FieldPlace place{.field_width = width - unit};
    std::string& typed = form.typed[at];
    const std::string before = typed;
    FieldResult result;
    if (field.words.empty()) {
        result = number_field(look, text, place, typed, focus);
    } else {
        const int picked = picked_of(field.words, typed);
        result = choice_field(look, text, place, field.words, picked, typed, focus);
        // A letter is enough; it may have come together with Enter.
        const int meant = picked_of(field.words, typed);
        if (result.entered && meant >= 0) {
            typed = std::string(field.words[static_cast<std::size_t>(meant)]);
        }
    }
    if (result.active && form.frames_to_focus == 0) form.field = at;
    if (typed != before) form.problem.reset();
    return {result.entered, result.entered && typed != before};
}

void go_on(Form& form, std::size_t from, Outbox<Command>& outbox) {
    if (from + 1 == form.typed.size()) {
        outbox.post(FinishTask{});
        return;
    }
    form.field = from + 1;
    form.frames_to_focus = frames_to_take_focus;
}

}  // namespace

void draw_task(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
               float height) {
    const TaskView& task = *view.task;
    const Card card(look, "task card", width, height, task.title);
    note_item(look, "task", task.title);
    // As many fields beside one another as there is room for.
    const StyleScope gaps(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(10), look.px(6)});
    const float room = ImGui::GetContentRegionAvail().x;
    const float gap = look.px(12);
    const int columns = std::clamp(static_cast<int>(room / look.px(125)), 2, 6);
    const float cell = (room - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    const ImVec2 start = ImGui::GetCursorPos();
    int column = 0;
    float top = start.y, bottom = start.y;
    bool was_completed = false;
    for (std::size_t at = 0; at < task.fields.size() && at < form.typed.size(); ++at) {
        const auto& field = task.fields[at];
        const int wide = std::min(field.cells, columns);
        if (column + wide > columns) {
            column = 0;
            top = bottom + look.px(4);
        }
        ImGui::SetCursorPos({start.x + static_cast<float>(column) * (cell + gap), top});
        const float own = cell * static_cast<float>(wide) + gap * static_cast<float>(wide - 1);
        {
            const GroupScope group;
            const Entered entered = draw_task_field(look, field, at, form, own);
            was_completed = was_completed || entered.was_completed;
            if (entered.is_done) go_on(form, at, outbox);
        }
        bottom = std::max(bottom, ImGui::GetCursorPosY());
        column += wide;
    }
    form.was_rewritten = was_completed;
    ImGui::SetCursorPos({start.x, bottom + look.px(4)});
    if (!task.trouble.empty()) {
        wrapped(look, look.fonts.text, task.trouble, Tone::bad);
        note_item(look, "task trouble", task.trouble);
    }
    for (const auto& words : task.words) wrapped(look, look.fonts.text, words);
    if (button(look, {"do it", task.does, "Ctrl Enter"}, Weight::main, 0, look.px(42),
               task.is_possible)) {
        perform("do it", view, form, outbox);
    }
    ImGui::SameLine();
    if (button(look, {"leave it", "Leave it", "Esc"}, Weight::plain, 0, look.px(42))) {
        perform("leave it", view, form, outbox);
    }
}

}  // namespace coilbook::bench::library_page
