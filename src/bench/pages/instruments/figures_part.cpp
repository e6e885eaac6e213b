// The form for what an instrument's maker says of it.
#include <imgui.h>

#include <algorithm>

#include "bench/pages/instruments/instruments_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/scope.h"

namespace coilbook::bench::instruments_page {

void draw_figures(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "figures", width, height);
    const FiguresView& view = at.view.figures;
    FiguresDraft& draft = at.form.figures;
    line(look, look.fonts.title, view.title);
    ImGui::Dummy({1, look.px(4)});
    const float inside = ImGui::GetContentRegionAvail().x;
    const StyleScope spacing(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(10)});
    const FieldPlace place{look.px(120), look.px(150), look.px(44), 0};
    if (view.is_new) {
        const FieldPlace wide{0, inside, look.px(44), 0};
        const FieldText text{.id = "kind",
                             .label = "Kind",
                             .unit = {},
                             .note = {},
                             .error = {},
                             .hint = {},
                             .rewritten = at.form.rewritten == Spot::kind};
        const bool focus = at.form.spot == Spot::kind && at.form.frames_to_focus > 0;
        const auto result =
            choice_field(look, text, wide, view.kinds, view.kind, draft.kind_text, focus);
        if (result.active && at.form.frames_to_focus == 0) at.form.spot = Spot::kind;
        const auto picked = std::ranges::find(view.kinds, std::string_view(draft.kind_text));
        if (picked != view.kinds.end()) {
            pick_kind(
                at.form,
                app::all_instrument_kinds[static_cast<std::size_t>(picked - view.kinds.begin())]);
        }
        if (result.entered) enter_figure(at.form, Spot::kind, at.outbox);
        FieldPlace code = place;
        code.field_width = look.px(200);
        if (draw_field(look, at, Spot::new_code, "new code", view.code, draft.code.text, code)) {
            enter_figure(at.form, Spot::new_code, at.outbox);
        }
    }
    const auto figure = [&](Spot spot, const char* id, const Field& field, TypedText& typed) {
        if (draw_field(look, at, spot, id, field, typed.text, place)) {
            enter_figure(at.form, spot, at.outbox);
        }
    };
    figure(Spot::resolution, "resolution", view.resolution, draft.resolution);
    figure(Spot::limit, "limit of error", view.limit, draft.limit);
    figure(Spot::scatter, "scatter", view.scatter, draft.scatter);
    wrapped(look, look.fonts.small, view.note, Tone::muted);
    ImGui::Dummy({1, look.px(2)});
    const float side = look.px(190), gap = look.px(10);
    if (button(look, {"save", view.save_label, "Ctrl Enter"}, Weight::main,
               view.other_unit.empty() ? inside : inside - side - gap, look.px(50))) {
        perform("save", at);
    }
    if (view.other_unit.empty()) return;
    ImGui::SameLine(0, gap);
    const std::string label = "Type " + view.other_unit;
    if (button(look, {"other unit", label, "F3"}, Weight::plain, side, look.px(50))) {
        perform("other unit", at);
    }
}

}  // namespace coilbook::bench::instruments_page
