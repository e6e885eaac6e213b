#include "bench/pages/rigs/rigs_screen.h"

#include <imgui.h>

#include <array>
#include <span>
#include <utility>

#include "bench/outfit_page.h"
#include "bench/pages/rigs/rigs_actions.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::rigs_page {
namespace {

std::span<const KeyHint> hints_of(const Form& form) {
    static constexpr std::array look{
        KeyHint{"F5", "next tip"},        KeyHint{"↑ ↓", "rig"},
        KeyHint{"F6", "into the wallet"}, KeyHint{"F7", "as the tip"},
        KeyHint{"Ctrl ↑ ↓", "its coils"}, KeyHint{"Ctrl N", "new"},
        KeyHint{"F4", "change"},          KeyHint{"Ctrl Z", "undo"},
        KeyHint{"F1", "everything"},
    };
    static constexpr std::array entry{
        KeyHint{"Enter", "next field"},
        KeyHint{"Ctrl Enter", "save"},
        KeyHint{"Esc", "back"},
        KeyHint{"F1", "everything"},
    };
    static constexpr std::array string{
        KeyHint{"Enter", "it goes in"},
        KeyHint{"Esc", "enough"},
        KeyHint{"Ctrl Z", "undo"},
        KeyHint{"F1", "everything"},
    };
    if (form.entry) return entry;
    return form.strings ? std::span<const KeyHint>(string) : look;
}

}  // namespace

void draw_list(const Look& look, const View& view, Desk& desk, float width, float height) {
    Form& form = desk.form();
    const Card card(look, "rigs", width, height, "Rigs", view.summary);
    const FieldText text{.id = "code",
                         .label = view.code_label,
                         .unit = {},
                         .note = {},
                         .error = {},
                         .hint = "scan or type",
                         .wanted = form.strings.has_value(),
                         .rewritten = std::exchange(form.is_rewritten, false)};
    const float inside = ImGui::GetContentRegionAvail().x;
    const bool focus = !form.entry && form.frames_to_focus > 0;
    const auto field = number_field(look, text, {.field_width = inside}, form.code, focus);
    if (field.entered) desk.outbox().post(EnterCode{form.code});
    if (!view.code_error.empty()) {
        wrapped(look, look.fonts.small, view.code_error, Tone::bad);
        note_item(look, "code error", view.code_error);
    } else if (!view.code_note.empty()) {
        wrapped(look, look.fonts.small, view.code_note, Tone::accent);
    }
    ImGui::Dummy({1, look.px(2)});
    const ChildScope rows("rows", {0, 0}, false);
    if (view.rows.empty()) {
        wrapped(look, look.fonts.text, view.nothing, Tone::muted);
        note_item(look, "nothing", view.nothing);
    }
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{0, look.px(2)});
    for (const RigRow& row : view.rows) {
        if (row.is_at && std::exchange(form.scrolls, false)) {
            scroll_to_row(list_row_height(look, true));
        }
        const auto clicked = list_row(look, {.id = row.code,
                                             .head = row.code,
                                             .words = row.name,
                                             .aside = row.size,
                                             .below = row.below,
                                             .is_at = row.is_at});
        if (clicked.row) desk.outbox().post(ChooseRig{row.rig});
    }
}

void draw(const Look& look, Desk& desk, bool is_covered) {
    if (!is_covered) {
        watch_keys(desk);
        watch_arrows<StepRig>(desk);
    }
    const View& view = desk.view();
    if (!view.failure.empty() && failure_box(look, view.failure)) {
        desk.outbox().post(CloseFailure{});
    }
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float gap = look.px(12), list = look.px(320), side = look.px(330);
    const float height = room.y - hint_bar_height(look);
    const ImVec2 start = ImGui::GetCursorPos();
    draw_list(look, view, desk, list, height);
    ImGui::SetCursorPos({start.x + list + gap, start.y});
    draw_sheet(look, view, desk, room.x - list - side - 2 * gap, height);
    ImGui::SetCursorPos({start.x + room.x - side, start.y});
    draw_side(look, view, desk, side, height);
    ImGui::SetCursorPos({start.x, start.y + height + gap});
    hint_bar(look, hints_of(desk.form()), view.message);
    keep_keyboard(desk.form(), is_covered);
}

}  // namespace coilbook::bench::rigs_page
