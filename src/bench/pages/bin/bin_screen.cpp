#include "bench/pages/bin/bin_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

#include "bench/pages/bin/bin_actions.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::bin_page {
namespace {

constexpr std::array hints{
    KeyHint{"Enter", "to the bench"}, KeyHint{"↑ ↓", "row"},
    KeyHint{"Ctrl Space", "tick"},    KeyHint{"Ctrl Enter", "confirm"},
    KeyHint{"Ctrl G", "same line"},   KeyHint{"Ctrl H", "hand out"},
    KeyHint{"F3", "state"},           KeyHint{"F4", "sort by"},
    KeyHint{"F5", "other way"},       KeyHint{"Esc", "all"},
    KeyHint{"Ctrl Z", "undo"},
};

constexpr std::ptrdiff_t rows_of_a_page = 12;

void watch_rows(Desk& desk) {
    if (pressed(plain(key::down))) desk.step(1);
    if (pressed(plain(key::up))) desk.step(-1);
    if (pressed(plain(key::page_down))) desk.step(rows_of_a_page);
    if (pressed(plain(key::page_up))) desk.step(-rows_of_a_page);
}

void draw_search(const Look& look, const View& view, Desk& desk) {
    Form& form = desk.form();
    const bool focus = form.spot == Spot::search && form.frames_to_focus > 0;
    const FieldText text{.id = "look for",
                         .label = view.range_label,
                         .unit = {},
                         .note = view.range_note,
                         .error = {},
                         .hint = "scan or type",
                         .rewritten = std::exchange(form.is_rewritten, false)};
    const float width = std::min(look.px(440), ImGui::GetContentRegionAvail().x);
    const auto field = number_field(look, text, {.field_width = width}, form.looked_for, focus);
    if (field.active && form.frames_to_focus == 0) form.spot = Spot::search;
    // What is typed and Enter may come within one frame, from a scanner: the view is made anew.
    if (field.entered && desk.view().at) perform("take to the bench", desk);
}

}  // namespace

void draw(const Look& look, Desk& desk, bool is_covered) {
    if (!is_covered) {
        watch_keys(desk);
        watch_rows(desk);
    }
    const View& view = desk.view();
    if (!view.failure.empty() && failure_box(look, view.failure)) {
        desk.outbox().post(CloseFailure{});
    }
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float gap = look.px(12), side = look.px(310);
    const float height = room.y - hint_bar_height(look);
    const ImVec2 start = ImGui::GetCursorPos();
    {
        const Card card(look, "table", room.x - side - gap, height, "Bin", view.summary);
        draw_search(look, view, desk);
        const float left = ImGui::GetContentRegionAvail().y;
        if (desk.form().as_cards) {
            draw_cards(look, desk.view(), desk, left);
        } else {
            draw_table(look, desk.view(), desk, left);
        }
    }
    ImGui::SetCursorPos({start.x + room.x - side, start.y});
    draw_side(look, desk.view(), desk, side, height);
    ImGui::SetCursorPos({start.x, start.y + height + gap});
    hint_bar(look, hints, desk.view().message);
    if (!is_covered && has_lost_keyboard(desk.form().frames_to_focus)) {
        desk.form().frames_to_focus = frames_to_take_focus;
    }
}

}  // namespace coilbook::bench::bin_page
