#include "bench/pages/coil/coil_screen.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "bench/widgets/notice.h"
#include "bench/widgets/scope.h"
#include "bench/words.h"

namespace coilbook::bench::coil_page {
namespace {

// Three columns, the widest one for the plot.
void draw_parts(const Look& look, const Place& at, float width, float height) {
    const float gap = look.px(12);
    const bool is_wide = width >= look.px(1720);
    const float first = look.px(is_wide ? 460 : 356);
    const float second = look.px(is_wide ? 560 : 408);
    const float third = width - first - second - 2 * gap;
    const ImVec2 start = ImGui::GetCursorPos();
    const float who = std::max(height * 0.53F, look.px(300));
    draw_who(look, at, first, who);
    ImGui::SetCursorPos({start.x, start.y + who + gap});
    draw_care(look, at, first, height - who - gap);

    const float x = start.x + first + gap;
    const float facts = std::max(height * 0.68F, look.px(340));
    ImGui::SetCursorPos({x, start.y});
    draw_facts(look, at, second, facts);
    ImGui::SetCursorPos({x, start.y + facts + gap});
    draw_history(look, at, second, height - facts - gap);

    const float last = x + second + gap;
    const float sink = height * 0.54F;
    ImGui::SetCursorPos({last, start.y});
    draw_sink(look, at, third, sink);
    ImGui::SetCursorPos({last, start.y + sink + gap});
    draw_photos(look, at, third, height - sink - gap);
}

}  // namespace

bool draw_field(const Look& look, const Place& at, Spot spot, const FieldText& given,
                std::string& typed) {
    FieldText text = given;
    text.rewritten = at.form.rewritten == spot;
    std::string problem;
    if (at.form.problem && at.form.spot == spot) problem = words_of(*at.form.problem);
    text.error = problem;
    const bool focus = at.form.spot == spot && at.form.frames_to_focus > 0;
    const std::string before = typed;
    const FieldResult result =
        number_field(look, text, {.field_width = ImGui::GetContentRegionAvail().x}, typed, focus);
    if (result.active && at.form.frames_to_focus == 0 && at.form.spot != spot) {
        at.form.spot = spot;
        at.form.problem.reset();
    }
    if (typed != before && at.form.spot == spot) at.form.problem.reset();
    return result.entered;
}

void draw(const Look& look, const Place& at, bool is_covered) {
    if (!is_covered) watch_keys(at);
    const View& view = at.view;
    if (!view.failure.empty() && failure_box(look, view.failure)) at.outbox.post(CloseFailure{});

    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float hints = hint_bar_height(look);
    const float height = std::max(room.y - hints, look.px(560));
    const float width = std::max(room.x, look.px(1180));
    const float top = ImGui::GetCursorPosY();
    {
        // The page scrolls as a whole where the window is smaller than it can be.
        const ColourScope see_through(ImGuiCol_ChildBg, look.theme->page);
        const StyleScope no_edge(ImGuiStyleVar_ChildBorderSize, 0.0F);
        const StyleScope no_padding(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
        const ChildScope page("coil", {room.x, room.y - hints}, false,
                              ImGuiWindowFlags_HorizontalScrollbar);
        const ColourScope cards(ImGuiCol_ChildBg, look.theme->card);
        const StyleScope edge(ImGuiStyleVar_ChildBorderSize, look.px(1));
        const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(14), look.px(11)});
        draw_parts(look, at, width, height);
        at.form.rewritten.reset();
    }
    constexpr std::array keys{
        KeyHint{"↑ ↓", "figure"},        KeyHint{"Ctrl ↑ ↓", "coil"},
        KeyHint{"Ctrl D", "condition"},  KeyHint{"Ctrl E", "notes"},
        KeyHint{"Ctrl P", "photograph"}, KeyHint{"F3", "table"},
        KeyHint{"Ctrl S", "save plot"},  KeyHint{"Ctrl B", "to the bench"},
        KeyHint{"Ctrl Z", "undo"},       KeyHint{"F1", "everything"},
    };
    ImGui::SetCursorPosY(top + room.y - hints + look.px(12));
    hint_bar(look, keys, view.message);
    if (!is_covered && has_lost_keyboard(at.form.frames_to_focus)) go_to(at.form, at.form.spot);
}

}  // namespace coilbook::bench::coil_page
