// Its photographs, one at a time.
#include <imgui.h>

#include "bench/pages/coil/coil_screen.h"
#include "bench/widgets/button.h"
#include "bench/widgets/card.h"
#include "bench/widgets/photo.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"

namespace coilbook::bench::coil_page {
namespace {

void draw_buttons(const Look& look, const Place& at) {
    const PhotoView& photo = at.view.photo;
    const float height = look.px(34);
    if (photo.has_more) {
        if (button(look, {"earlier photograph", "Earlier", "F5"}, Weight::plain, 0, height)) {
            perform("earlier photograph", at);
        }
        ImGui::SameLine();
        if (button(look, {"later photograph", "Later", "F6"}, Weight::plain, 0, height)) {
            perform("later photograph", at);
        }
        ImGui::SameLine();
    }
    if (button(look, {"put photograph away", "Put away", "F9"}, Weight::plain, 0, height)) {
        perform("put photograph away", at);
    }
}

}  // namespace

void draw_photos(const Look& look, const Place& at, float width, float height) {
    const Card card(look, "photographs", width, height, "Photograph", at.view.photo.caption);
    if (!at.view.has_coil) return;
    const PhotoView& photo = at.view.photo;
    const StyleScope gaps(ImGuiStyleVar_ItemSpacing, ImVec2{look.px(8), look.px(6)});
    const bool has_any = !photo.caption.empty();
    const bool is_adding = at.form.spot == Spot::photograph || !has_any;
    if (!photo.nothing.empty()) {
        wrapped(look, look.fonts.text, photo.nothing, has_any ? Tone::bad : Tone::muted);
    }
    if (photo.photo) {
        const ImVec2 room = ImGui::GetContentRegionAvail();
        const float below = look.px(40) + (is_adding ? look.px(84) : 0);
        draw_photo(look, "photo", *photo.photo, room.x, std::max(room.y - below, look.px(60)));
    }
    if (has_any) draw_buttons(look, at);
    if (!is_adding) return;
    if (draw_field(look, at, Spot::photograph,
                   {.id = "photograph path",
                    .label = "Or its path (Ctrl P)",
                    .unit = {},
                    .note = {},
                    .error = {},
                    .hint = "/home/me/loop.jpg"},
                   at.form.photograph)) {
        enter_photograph(at.form, at.outbox);
    }
}

}  // namespace coilbook::bench::coil_page
