#include "bench/pages/instruments/instruments_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <span>

#include "bench/widgets/button.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::instruments_page {
namespace {

std::span<const KeyHint> hints_of(Task task, bool is_going) {
    static constexpr std::array look{
        KeyHint{"↑ ↓", "instrument"}, KeyHint{"F5", "check it"}, KeyHint{"F6", "figures"},
        KeyHint{"Ctrl N", "new"},     KeyHint{"F9", "study"},    KeyHint{"Ctrl Z", "undo"},
        KeyHint{"F1", "everything"},
    };
    static constexpr std::array check{
        KeyHint{"Enter", "go on"},      KeyHint{"Enter on empty", "next standard"},
        KeyHint{"Ctrl T", "take back"}, KeyHint{"F3", "unit"},
        KeyHint{"Ctrl Enter", "save"},  KeyHint{"Esc", "leave it for now"},
        KeyHint{"F1", "everything"},
    };
    static constexpr std::array figures{
        KeyHint{"Enter", "next field"}, KeyHint{"Ctrl Enter", "save"}, KeyHint{"F3", "unit"},
        KeyHint{"Esc", "back"},         KeyHint{"F1", "everything"},
    };
    static constexpr std::array set_up{
        KeyHint{"Enter", "next field"}, KeyHint{"Ctrl Enter", "begin"}, KeyHint{"F3", "unit"},
        KeyHint{"Esc", "back"},         KeyHint{"F1", "everything"},
    };
    static constexpr std::array study{
        KeyHint{"Enter", "next reading"},
        KeyHint{"Ctrl T", "take the last back"},
        KeyHint{"Esc", "leave it for now"},
        KeyHint{"F1", "everything"},
    };
    switch (task) {
        case Task::look:
            return look;
        case Task::check:
            return check;
        case Task::figures:
            return figures;
        case Task::study:
            return is_going ? std::span<const KeyHint>(study) : set_up;
    }
    return look;
}

void draw_task(const Look& look, const Place& at, float width, float height) {
    switch (at.view.task) {
        case Task::look:
            return draw_about(look, at, width, height);
        case Task::check:
            return draw_check(look, at, width, height);
        case Task::figures:
            return draw_figures(look, at, width, height);
        case Task::study:
            return draw_study(look, at, width, height);
    }
}

}  // namespace

bool draw_field(const Look& look, const Place& at, Spot spot, const char* id, const Field& field,
                std::string& typed, const FieldPlace& place) {
    const FieldText text{.id = id,
                         .label = field.label,
                         .unit = field.unit,
                         .note = field.note,
                         .error = field.error,
                         .hint = field.hint,
                         .rewritten = at.form.rewritten == spot};
    const bool focus = at.form.spot == spot && at.form.frames_to_focus > 0;
    const FieldResult result = number_field(look, text, place, typed, focus);
    if (result.active && at.form.frames_to_focus == 0) at.form.spot = spot;
    return result.entered;
}

void draw_sentence(const Look& look, const char* name, const Sentence& sentence) {
    if (sentence.words.empty()) return;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (sentence.mark) {
        const Tone tone = sentence.tone == Tone::normal ? Tone::good : sentence.tone;
        draw_mark(*ImGui::GetWindowDrawList(), *sentence.mark, at.x + look.px(9),
                  at.y + look.fonts.text->FontSize / 2 + look.px(1), look.px(6.5F),
                  colour_of(tone, *look.theme), look.theme->card);
        ImGui::SetCursorScreenPos({at.x + look.px(26), at.y});
    }
    const bool in_text = sentence.mark && sentence.tone != Tone::muted;
    wrapped(look, look.fonts.text, sentence.words, in_text ? Tone::normal : sentence.tone);
    note_item(look, name, sentence.words);
    help_on_item(look, sentence.help);
}

void draw_how(const Look& look, const char* title, const std::vector<std::string>& sentences) {
    line(look, look.fonts.small, title, Tone::muted);
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(4)});
    for (const std::string& each : sentences) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddCircleFilled(
            {at.x + look.px(5), at.y + look.fonts.small->FontSize / 2 + look.px(1)}, look.px(2.2F),
            ink(look.theme->muted));
        ImGui::SetCursorScreenPos({at.x + look.px(16), at.y});
        wrapped(look, look.fonts.small, each);
    }
}

void draw(const Look& look, const Place& at, bool is_covered) {
    if (!is_covered) watch_keys(at);
    const View& view = at.view;
    if (!view.failure.empty() && failure_box(look, view.failure)) at.outbox.post(CloseFailure{});

    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float gap = look.px(12), hints = hint_bar_height(look);
    const float height = std::max(room.y - hints, look.px(480));
    const float width = std::max(room.x, look.px(1140));
    const bool wide = width >= look.px(1560);

    // The page scrolls as a whole where the window is smaller than it can be.
    const ColourScope see_through(ImGuiCol_ChildBg, look.theme->page);
    const StyleScope no_edge(ImGuiStyleVar_ChildBorderSize, 0.0F);
    const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
    {
        const ChildScope page("page", {room.x, room.y - hints}, false,
                              ImGuiWindowFlags_HorizontalScrollbar);
        const ColourScope cards(ImGuiCol_ChildBg, look.theme->card);
        const StyleScope edge(ImGuiStyleVar_ChildBorderSize, look.px(1));
        const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(16), look.px(14)});
        const float list = look.px(wide ? 350 : 310);
        const float task = std::min((width - list - 2 * gap) * 0.52F, look.px(680));
        const float result = width - list - task - 2 * gap;
        const ImVec2 start = ImGui::GetCursorPos();
        draw_list(look, at, list, height);
        ImGui::SetCursorPos({start.x + list + gap, start.y});
        draw_task(look, at, task, height);
        at.form.rewritten.reset();
        ImGui::SetCursorPos({start.x + list + task + 2 * gap, start.y});
        if (view.task == Task::study) {
            draw_study_result(look, at, result, height);
        } else {
            draw_result(look, at, result, height);
        }
    }
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + gap - ImGui::GetStyle().ItemSpacing.y);
    hint_bar(look, hints_of(view.task, view.study.is_going), view.message);
    if (!is_covered && has_lost_keyboard(at.form.frames_to_focus)) {
        go_to(at.form, at.form.spot);
    }
}

}  // namespace coilbook::bench::instruments_page
