#include "bench/shell/style.h"

#include <imgui.h>

#include "bench/widgets/ink.h"

namespace coilbook::bench {

void apply_style(const Look& look) {
    const Theme& theme = *look.theme;
    ImGuiStyle style;
    style.WindowPadding = {16, 14};
    style.WindowRounding = 8;  // tooltips take it, too
    style.WindowBorderSize = 0;
    style.ChildRounding = 10;
    style.ChildBorderSize = 1;
    style.PopupRounding = 8;
    style.FramePadding = {12, 10};
    style.FrameRounding = 7;
    style.FrameBorderSize = 1;
    style.ItemSpacing = {10, 8};
    style.ItemInnerSpacing = {8, 6};
    style.ScrollbarSize = 12;
    style.ScrollbarRounding = 6;
    style.GrabRounding = 6;
    style.DisabledAlpha = 0.6F;
    style.CurveTessellationTol = 0.6F;
    style.CircleTessellationMaxError = 0.15F;
    style.ScaleAllSizes(look.scale);

    const auto set = [&style](ImGuiCol_ part, Colour colour, float opacity = 1.0F) {
        style.Colors[part] = ink4(colour, opacity);
    };
    // Whatever is not named below is drawn in plain accent, so that nothing keeps foreign colours.
    for (ImVec4& colour : style.Colors) colour = ink4(theme.accent);
    set(ImGuiCol_Text, theme.text);
    set(ImGuiCol_TextDisabled, theme.muted);
    set(ImGuiCol_WindowBg, theme.page);
    set(ImGuiCol_ChildBg, theme.card);
    set(ImGuiCol_PopupBg, theme.card);
    set(ImGuiCol_Border, theme.border);
    set(ImGuiCol_BorderShadow, theme.border, 0.0F);
    set(ImGuiCol_FrameBg, theme.field);
    set(ImGuiCol_FrameBgHovered, theme.field);
    set(ImGuiCol_FrameBgActive, theme.field);
    set(ImGuiCol_ScrollbarBg, theme.card, 0.0F);
    set(ImGuiCol_ScrollbarGrab, theme.field_border);
    set(ImGuiCol_ScrollbarGrabHovered, theme.muted);
    set(ImGuiCol_ScrollbarGrabActive, theme.accent);
    set(ImGuiCol_Button, theme.raised);
    set(ImGuiCol_ButtonHovered, theme.border);
    set(ImGuiCol_ButtonActive, theme.border);
    set(ImGuiCol_Header, theme.raised);
    set(ImGuiCol_HeaderHovered, theme.raised);
    set(ImGuiCol_HeaderActive, theme.border);
    set(ImGuiCol_Separator, theme.border);
    set(ImGuiCol_TextSelectedBg, theme.accent, 0.30F);
    set(ImGuiCol_ModalWindowDimBg, theme.text, 0.35F);
    ImGui::GetStyle() = style;
}

}  // namespace coilbook::bench
