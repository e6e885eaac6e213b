#include "bench/shell/top_bar.h"

#include <imgui.h>

#include <algorithm>

#include <fmt/format.h>

#include "bench/widgets/button.h"
#include "bench/widgets/keys.h"
#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {

TopBarWish draw_top_bar(const Look& look, ThemeName theme, std::string_view subtitle,
                        const std::function<void(float, float)>& page_part) {
    TopBarWish wish;
    const ImVec2 start = ImGui::GetCursorPos();
    const float height = look.px(36);
    const float right = ImGui::GetWindowContentRegionMax().x;

    const auto baseline_at = [&](const ImFont* font) {
        return start.y + (height - look.fonts.title->FontSize) / 2 + look.fonts.title->Ascent -
               font->Ascent;
    };
    ImGui::SetCursorPosY(baseline_at(look.fonts.title));
    line(look, look.fonts.title, "Coilbook");
    ImGui::SameLine(0, look.px(12));
    ImGui::SetCursorPosY(baseline_at(look.fonts.small));

    const float theme_width = look.px(36), step_width = look.px(36), gap = look.px(8);
    const float buttons = right - theme_width - 2 * step_width - 2 * gap - look.px(60);
    const float room = std::max(0.0F, buttons - ImGui::GetCursorPosX() - gap);
    line_within(look, look.fonts.small, std::min(room, look.px(150)), subtitle, Tone::muted);
    ImGui::SameLine(0, look.px(16));
    const float part = ImGui::GetCursorPosX();
    ImGui::SetCursorPos({part, start.y});
    page_part(std::max(0.0F, buttons - part - look.px(24)), height);

    ImGui::SetCursorPos({buttons, start.y});
    if (button(look, {"smaller", "−", {}}, Weight::plain, step_width, height)) {
        wish.scale_step = -1;
    }
    const std::string percent = fmt::format("{:.0f} %", look.scale * 100.0F);
    const ImVec2 size = extent(look.fonts.small, percent);
    ImGui::SetCursorPos(
        {buttons + step_width + (look.px(60) - size.x) / 2, start.y + (height - size.y) / 2});
    line(look, look.fonts.small, percent, Tone::muted);
    ImGui::SetCursorPos({buttons + step_width + look.px(60), start.y});
    if (button(look, {"larger", "+", {}}, Weight::plain, step_width, height)) {
        wish.scale_step = 1;
    }
    ImGui::SetCursorPos({right - theme_width, start.y});
    if (mark_button(look, "theme", Mark::half,
                    theme == ThemeName::light ? "Dark colours: F2" : "Light colours: F2",
                    theme_width)) {
        wish.other_theme = true;
    }

    if (plain_pressed(key::f2)) wish.other_theme = true;
    if (plain_pressed(key::f11)) wish.large = true;
    const bool shifted_plus = control_pressed('=') || control_pressed('+');
    if (shifted_plus || control_pressed(key::pad_plus)) wish.scale_step = 1;
    if (control_pressed('-') || control_pressed(key::pad_minus)) wish.scale_step = -1;
    if (control_pressed('0')) wish.monitor_scale = true;
    if (control_pressed('Q')) wish.quit = true;

    ImGui::SetCursorPos({start.x, start.y + height + look.px(10)});
    return wish;
}

}  // namespace coilbook::bench
