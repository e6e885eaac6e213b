#include "bench/widgets/card.h"

#include "bench/widgets/text.h"

namespace coilbook::bench {

Card::Card(const Look& look, const char* id, float width, float height, std::string_view title,
           std::string_view aside)
    : child_(id, {width, height}, true) {
    if (title.empty()) return;
    line(look, look.fonts.strong, title);
    if (aside.empty()) return;
    ImGui::SameLine();
    const float lower = look.fonts.strong->Ascent - look.fonts.small->Ascent;
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + lower);
    line_within(look, look.fonts.small, ImGui::GetContentRegionAvail().x, aside, Tone::muted);
}

}  // namespace coilbook::bench
