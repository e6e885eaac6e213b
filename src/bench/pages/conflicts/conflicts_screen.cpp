#include "bench/pages/conflicts/conflicts_screen.h"

#include <fmt/format.h>
#include <imgui.h>

#include <array>
#include <utility>

#include "bench/pages/conflicts/conflicts_actions.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/list_row.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::conflicts_page {
namespace {

constexpr std::size_t with_keys = 4;

void draw_list(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "conflicts", width, height, "To be settled");
    if (view.rows.empty()) return wrapped(look, look.fonts.text, view.nothing, Tone::muted);
    const ChildScope rows("rows", {0, 0}, false);
    for (const ConflictRow& row : view.rows) {
        const IdScope id(row.id.c_str());
        if (row.is_at && std::exchange(desk.form().scrolls, false)) {
            scroll_to_row(list_row_height(look, true));
        }
        const RowText text{.id = row.id, .head = row.thing, .below = row.what, .is_at = row.is_at};
        if (list_row(look, text).row) desk.form().at = row.id;
    }
}

void draw_choice(const Look& look, const ChoiceRow& choice, std::size_t number, Desk& desk) {
    const IdScope id(static_cast<int>(number));
    ImGui::Dummy({1, look.px(4)});
    wrapped(look, look.fonts.strong, choice.value);
    note_item(look, fmt::format("choice {}", number), choice.value);
    wrapped(look, look.fonts.small, choice.who, Tone::muted);
    const std::string action = fmt::format("settle as {}", number);
    const std::string key = number <= with_keys ? fmt::format("Ctrl {}", number) : "";
    const char* label = choice.stands ? "This is right: it stands now" : "This is right";
    if (button(look, {action, label, key}, Weight::plain, look.px(360), look.px(44))) {
        desk.outbox().post(SettleAs{static_cast<int>(number)});
    }
}

void draw_choices(const Look& look, const View& view, Desk& desk, float width, float height) {
    const Card card(look, "choices", width, height);
    wrapped(look, look.fonts.strong, view.title);
    note_item(look, "title", view.title);
    wrapped(look, look.fonts.small,
            "Until somebody says what is right, the later one stands. What you say goes along to "
            "the other laptops. Ctrl Z takes it back.",
            Tone::muted);
    const ChildScope choices("answers", {0, 0}, false);
    for (std::size_t at = 0; at < view.choices.size(); ++at) {
        draw_choice(look, view.choices[at], at + 1, desk);
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
    const float gap = look.px(12), list = look.px(420), height = room.y - hint_bar_height(look);
    draw_list(look, view, desk, view.rows.empty() ? room.x : list, height);
    if (!view.rows.empty()) {
        ImGui::SetCursorPos({start.x + list + gap, start.y});
        draw_choices(look, view, desk, room.x - list - gap, height);
    }
    static constexpr std::array hints{KeyHint{"↑ ↓", "conflict"},
                                      KeyHint{"Ctrl 1, 2 …", "this one is right"},
                                      KeyHint{"Ctrl Z", "undo"}, KeyHint{"F1", "everything"}};
    ImGui::SetCursorPos({start.x, start.y + height + gap});
    hint_bar(look, hints, view.message);
}

}  // namespace coilbook::bench::conflicts_page
