// The map of all classes.
#include <imgui.h>

#include "bench/pages/library/library_actions.h"
#include "bench/pages/library/library_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/plot.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/type.h"

namespace coilbook::bench::library_page {

void draw_map(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
              float height) {
    const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(12), look.px(10)});
    const Card card(look, "map card", width, height);
    const ImVec2 start = ImGui::GetCursorPos();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const PlotDone done = plot(look, "map", view.map, form.window, room.x, room.y);
    if (!done.clicked.empty()) outbox.post(ChooseClass{done.clicked});
    if (!form.window) return;
    // Back to the whole, in the corner of the plot.
    const float wide =
        extent(look.fonts.text, "Whole map").x + extent(look.fonts.small, "F4").x + look.px(42);
    ImGui::SetCursorPos({start.x + room.x - wide - look.px(14), start.y + look.px(12)});
    ImGui::SetItemAllowOverlap();
    if (button(look, {"whole map", "Whole map", "F4"}, Weight::plain, wide, look.px(36))) {
        perform("whole map", view, form, outbox);
    }
}

}  // namespace coilbook::bench::library_page
