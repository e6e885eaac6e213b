// How it sinks in fresh and in sea water, as a plot or as a table.
#include <imgui.h>

#include "bench/pages/coil/coil_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/number_help.h"
#include "bench/widgets/plot.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::coil_page {
namespace {

void draw_table(const Look& look, const SinkView& sink) {
    const StyleScope tight(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(6)});
    const float left = ImGui::GetCursorPosX();
    const float width = ImGui::GetContentRegionAvail().x;
    const auto row = [&](const SinkRow& each, ImFont* font, Tone tone) {
        const float y = ImGui::GetCursorPosY();
        line_ending_at(look, font, left + width * 0.22F, each.temperature, tone);
        ImGui::SetCursorPosY(y);
        line_ending_at(look, font, left + width * 0.60F, each.fresh, tone);
        ImGui::SetCursorPosY(y);
        line_ending_at(look, font, left + width * 0.98F, each.sea, tone);
    };
    row(sink.heads, look.fonts.small, Tone::muted);
    for (const auto& each : sink.rows) {
        const ImVec2 low = ImGui::GetCursorScreenPos();
        row(each, look.fonts.text, Tone::normal);
        help_on(look, low.x, low.y, low.x + width, ImGui::GetItemRectMax().y, sink.help);
        note_item(look, "sinks at " + each.temperature, each.fresh);
    }
    wrapped(look, look.fonts.small, sink.note, Tone::muted);
}

}  // namespace

void draw_sink(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "sinks", width, height, "How it sinks", "level, in still water");
    if (!at.view.has_coil) return;
    const SinkView& sink = at.view.sink;
    const float wide = look.px(112);
    ImGui::SameLine();
    ImGui::SetCursorPos({width - wide - look.px(12), look.px(7)});
    const char* other = at.form.shows_table ? "Plot" : "Table";
    if (button(look, {"table or plot", other, "F3"}, Weight::plain, wide, look.px(30),
               !sink.rows.empty())) {
        perform("table or plot", at);
    }
    if (at.form.shows_table && !sink.rows.empty()) return draw_table(look, sink);
    const ImVec2 room = ImGui::GetContentRegionAvail();
    plot(look, "sink plot", sink.plot, at.form.window, room.x, room.y);
}

}  // namespace coilbook::bench::coil_page
