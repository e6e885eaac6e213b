#include "bench/pages/bench/bench_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "bench/pages/bench/bench_actions.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bench_page {
namespace {

void draw_failure(const Look& look, const std::string& words, Outbox<Command>& outbox) {
    const Theme& theme = *look.theme;
    const float close_width = look.px(110);
    const float width = ImGui::GetContentRegionAvail().x;
    const float inside = width - close_width - look.px(80);
    const std::string lines = in_lines(look.fonts.text, words, inside);
    const ImVec2 size = extent(look.fonts.text, lines);
    const float height = std::max(size.y + look.px(24), look.px(60));
    const ImVec2 low = ImGui::GetCursorScreenPos();
    {
        const ColourScope edge(ImGuiCol_Border, theme.bad);
        const ChildScope box("failure", {width, height}, true, ImGuiWindowFlags_NoScrollbar);
        draw_mark(*ImGui::GetWindowDrawList(), Mark::warning, low.x + look.px(28),
                  low.y + height / 2, look.px(11), theme.bad, theme.card);
        ImGui::SetCursorPos({look.px(54), (height - size.y) / 2});
        line(look, look.fonts.text, lines);
        note_item(look, "failure", words);
        ImGui::SetCursorPos({width - close_width - look.px(10), (height - look.px(40)) / 2});
        if (button(look, {"close failure", "Close", "F8"}, Weight::plain, close_width,
                   look.px(40))) {
            outbox.post(CloseFailure{});
        }
    }
}

void draw_hints(const Look& look, const std::string& message) {
    constexpr std::array hints{
        KeyHint{"Enter", "save, go on"},  KeyHint{"↑ ↓", "field"},
        KeyHint{"Ctrl T", "take back"},   KeyHint{"Ctrl Z", "undo"},
        KeyHint{"Ctrl ↑ ↓", "coil"},      KeyHint{"Ctrl G", "best next reading"},
        KeyHint{"Ctrl Enter", "confirm"}, KeyHint{"Ctrl N", "next coil"},
        KeyHint{"Ctrl F", "find or new"}, KeyHint{"Page ↓", "why"},
        KeyHint{"F1", "everything"},
    };
    // What was done last is always told in full; hints that it leaves no room for are left out.
    const float right = ImGui::GetWindowContentRegionMax().x;
    const float wide = std::min(extent(look.fonts.small, message).x, right * 0.6F);
    const float room = right - (message.empty() ? 0 : wide + look.px(16));
    for (const KeyHint& hint : hints) {
        const float next = extent(look.fonts.small, hint.key).x +
                           extent(look.fonts.small, hint.does).x + look.px(28);
        if (ImGui::GetCursorPosX() + next > room) break;
        key_hint(look, hint);
        ImGui::SameLine(0, look.px(6));
    }
    if (message.empty()) return;
    ImGui::SetCursorPos({right - wide, ImGui::GetCursorPosY() + look.px(3)});
    line_within(look, look.fonts.small, wide + look.px(1), message, Tone::good);
    note_item(look, "message", message);
}

// If nothing has the keyboard, such as after a click on a button, the field in hand gets it back:
// a device that types must never type into nothing.
void keep_the_keyboard(Form& form) {
    const bool mouse_is_busy = ImGui::IsAnyMouseDown();
    if (form.frames_to_focus > 0) {
        --form.frames_to_focus;
    } else if (!ImGui::IsAnyItemActive() && !mouse_is_busy) {
        go_to(form, form.spot);
    }
}

}  // namespace

void draw_question(const Look& look, const View& view, Outbox<Command>& outbox, float width,
                   float height) {
    const ImVec2 start = ImGui::GetCursorPos();
    const float gap = look.px(8);
    const auto wide = [&](const std::string& label) {
        return extent(look.fonts.text, label).x + extent(look.fonts.small, "F3").x + look.px(42);
    };
    const char* what = "To know";
    const float words = extent(look.fonts.small, what).x + gap;
    const float answer = wide(view.question.answer), order = wide(view.question.order);
    const bool with_order = words + answer + gap + order <= width;
    if (words + answer > width) return;
    float x = start.x + width - words - answer - (with_order ? gap + order : 0);
    ImGui::SetCursorPos({x, start.y + (height - look.fonts.small->FontSize) / 2});
    line(look, look.fonts.small, what, Tone::muted);
    ImGui::SetCursorPos({x += words, start.y});
    if (button(look, {"ask", view.question.answer, "F3"}, Weight::plain, answer, height)) {
        outbox.post(AskNext{});
    }
    if (!with_order) return;
    ImGui::SetCursorPos({x + answer + gap, start.y});
    if (button(look, {"order", view.question.order, "F4"}, Weight::plain, order, height)) {
        outbox.post(AskInOtherOrder{});
    }
}

void draw(const Look& look, const View& view, Form& form, Outbox<Command>& outbox,
          bool is_covered) {
    if (!is_covered) watch_keys(view, form, outbox);
    if (!view.failure.empty()) draw_failure(look, view.failure, outbox);

    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float gap = look.px(12), hints = look.fonts.small->FontSize + look.px(6);
    const float height = std::max(room.y - hints - gap, look.px(480));
    const float width = std::max(room.x, look.px(1140));
    const bool wide = width >= look.px(1560);

    // The page scrolls as a whole where the window is smaller than it can be.
    const ColourScope see_through(ImGuiCol_ChildBg, look.theme->page);
    const StyleScope no_edge(ImGuiStyleVar_ChildBorderSize, 0.0F);
    const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
    {
        const ChildScope page("page", {room.x, room.y - hints - gap}, false,
                              ImGuiWindowFlags_HorizontalScrollbar);
        const ColourScope cards(ImGuiCol_ChildBg, look.theme->card);
        const StyleScope edge(ImGuiStyleVar_ChildBorderSize, look.px(1));
        const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(16), look.px(14)});

        const float names = extent(look.fonts.small, view.bin.longest).x + look.px(90);
        const float bin = std::clamp(names, look.px(wide ? 260 : 222), look.px(wide ? 320 : 280));
        const float readings = std::min((width - bin - 2 * gap) * 0.5F, look.px(600));
        const float verdict = width - bin - readings - 2 * gap;
        const ImVec2 start = ImGui::GetCursorPos();
        draw_bin(look, view, form, outbox, bin, height);
        ImGui::SetCursorPos({start.x + bin + gap, start.y});
        draw_readings(look, view, form, outbox, readings, height);
        form.rewritten.reset();
        ImGui::SetCursorPos({start.x + bin + readings + 2 * gap, start.y});
        draw_verdict(look, view, form, outbox, verdict, height);
    }
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + gap - ImGui::GetStyle().ItemSpacing.y);
    draw_hints(look, view.message);
    if (!is_covered) keep_the_keyboard(form);
}

}  // namespace coilbook::bench::bench_page
