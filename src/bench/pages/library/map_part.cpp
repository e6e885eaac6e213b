// The map of all classes.
#include <imgui.h>

#include "bench/pages/library/library_screen.h"
#include "bench/widgets/card.h"
#include "bench/widgets/plot.h"
#include "bench/widgets/scope.h"

namespace coilbook::bench::library_page {

void draw_map(const Look& look, const View& view, Form& form, Outbox<Command>& outbox, float width,
              float height) {
    const StyleScope padding(ImGuiStyleVar_WindowPadding, ImVec2{look.px(12), look.px(10)});
    const Card card(look, "map card", width, height);
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const PlotDone done = plot(look, "map", view.map, form.window, room.x, room.y);
    if (!done.clicked.empty()) outbox.post(ChooseClass{done.clicked});
}

}  // namespace coilbook::bench::library_page
