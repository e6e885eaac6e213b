#include "bench/pages/day/day_screen.h"

#include <imgui.h>

#include <array>
#include <span>

#include "bench/outfit_page.h"
#include "bench/pages/day/day_actions.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::day_page {
namespace {

std::span<const KeyHint> hints_of(const Form& form) {
    static constexpr std::array plan{
        KeyHint{"Enter", "it is carried"}, KeyHint{"Ctrl D", "off the plan"},
        KeyHint{"Ctrl G", "fill the gap"}, KeyHint{"F6", "pack"},
        KeyHint{"Page ↑ ↓", "day"},        KeyHint{"Ctrl ↑ ↓", "boat"},
        KeyHint{"Ctrl Z", "undo"},         KeyHint{"F1", "everything"},
    };
    static constexpr std::array pack{
        KeyHint{"Enter", "it is aboard"},
        KeyHint{"Ctrl Space", "tick"},
        KeyHint{"F5", "plan"},
        KeyHint{"F7", "come back"},
        KeyHint{"Page ↑ ↓", "day"},
        KeyHint{"Ctrl ↑ ↓", "boat"},
        KeyHint{"Ctrl S", "list as PDF"},
        KeyHint{"Ctrl Z", "undo"},
        KeyHint{"F1", "everything"},
    };
    static constexpr std::array back{
        KeyHint{"Enter", "it is back"}, KeyHint{"Ctrl Space", "this is back"},
        KeyHint{"Ctrl L", "lost"},      KeyHint{"Ctrl M", "damaged"},
        KeyHint{"Ctrl Z", "undo"},      KeyHint{"F1", "everything"},
    };
    static constexpr std::array people{
        KeyHint{"↑ ↓", "row"},           KeyHint{"F3", "change"},   KeyHint{"Ctrl B", "new boat"},
        KeyHint{"Ctrl K", "new client"}, KeyHint{"Ctrl Z", "undo"}, KeyHint{"F1", "everything"},
    };
    static constexpr std::array entry{
        KeyHint{"Enter", "next field"},
        KeyHint{"Ctrl Enter", "save"},
        KeyHint{"Esc", "back"},
        KeyHint{"F1", "everything"},
    };
    if (form.entry) return entry;
    switch (form.task) {
        case Task::plan:
            return plan;
        case Task::pack:
            return pack;
        case Task::back:
            return back;
        case Task::people:
            return people;
    }
    return pack;
}

}  // namespace

void draw_boats(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "boats", width, height);
    const float inside = ImGui::GetContentRegionAvail().x, gap = look.px(8);
    wrapped(look, look.fonts.strong, view.day);
    note_item(look, "day", view.day);
    line(look, look.fonts.small, view.summary, Tone::muted);
    const float half = (inside - gap) / 2;
    if (button(look, {"day before", "Before", "Page ↑"}, Weight::plain, half)) {
        perform("day before", desk);
    }
    ImGui::SameLine(0, gap);
    if (button(look, {"day after", "After", "Page ↓"}, Weight::plain, half)) {
        perform("day after", desk);
    }
    ImGui::Dummy({1, look.px(2)});
    const float buttons = (look.px(44) + gap) * 2;
    {
        const ChildScope rows("rows", {0, ImGui::GetContentRegionAvail().y - buttons}, false);
        if (view.boats.empty()) {
            wrapped(look, look.fonts.text, view.no_boats, Tone::muted);
            note_item(look, "no boats", view.no_boats);
        }
        const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
        for (const BoatRow& row : view.boats) {
            const auto clicked = list_row(look, {.id = row.name,
                                                 .head = row.name,
                                                 .aside = row.packed,
                                                 .below = row.clients,
                                                 .mark = row.mark,
                                                 .tone = row.tone,
                                                 .is_at = row.is_at,
                                                 .help = row.packed_help});
            if (clicked.row) desk.outbox().post(ChooseBoat{row.boat});
        }
    }
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{gap, gap});
    if (button(look, {"new outing", "A boat goes out", "Ctrl N"}, Weight::plain, inside)) {
        perform("new outing", desk);
    }
    if (button(look, {"call off", "It stays at home", ""}, Weight::plain, inside, 0,
               view.has_boat)) {
        perform("call off", desk);
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
    const float gap = look.px(12), boats = look.px(290), side = look.px(330);
    const float height = room.y - hint_bar_height(look);
    const ImVec2 start = ImGui::GetCursorPos();
    draw_boats(look, view, desk, boats, height);
    ImGui::SetCursorPos({start.x + boats + gap, start.y});
    draw_rows(look, view, desk, room.x - boats - side - 2 * gap, height);
    ImGui::SetCursorPos({start.x + room.x - side, start.y});
    draw_side(look, view, desk, side, height);
    ImGui::SetCursorPos({start.x, start.y + height + gap});
    hint_bar(look, hints_of(desk.form()), view.message);
    keep_keyboard(desk.form(), is_covered);
}

}  // namespace coilbook::bench::day_page
