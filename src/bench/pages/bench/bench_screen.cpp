#include "bench/pages/bench/bench_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "bench/pages/bench/bench_actions.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/field.h"
#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::bench_page {
namespace {

constexpr std::array hints{
    KeyHint{"Enter", "save, go on"},  KeyHint{"↑ ↓", "field"},
    KeyHint{"Ctrl T", "take back"},   KeyHint{"Ctrl Z", "undo"},
    KeyHint{"Ctrl ↑ ↓", "coil"},      KeyHint{"Ctrl G", "best next reading"},
    KeyHint{"Ctrl Enter", "confirm"}, KeyHint{"Ctrl N", "next coil"},
    KeyHint{"Ctrl F", "find or new"}, KeyHint{"Page ↓", "why"},
};

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
    if (!view.failure.empty() && failure_box(look, view.failure)) outbox.post(CloseFailure{});

    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float gap = look.px(12), page_height = room.y - hint_bar_height(look);
    const float height = std::max(page_height, look.px(480));
    if (look.is_large) {
        draw_large(look, view, form, outbox, room.x, page_height - gap);
        form.rewritten.reset();
        hint_bar(look, hints, view.message);
        if (!is_covered && has_lost_keyboard(form.frames_to_focus)) go_to(form, form.spot);
        return;
    }
    const float width = std::max(room.x, look.px(1140));
    const bool wide = width >= look.px(1560);

    // The page scrolls as a whole where the window is smaller than it can be.
    const ColourScope see_through(ImGuiCol_ChildBg, look.theme->page);
    const StyleScope no_edge(ImGuiStyleVar_ChildBorderSize, 0.0F);
    const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
    {
        const ChildScope page("page", {room.x, page_height}, false,
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
    hint_bar(look, hints, view.message);
    if (!is_covered && has_lost_keyboard(form.frames_to_focus)) {
        go_to(form, form.spot);
    }
}

}  // namespace coilbook::bench::bench_page
