#include "bench/widgets/button.h"

#include <imgui.h>

#include <algorithm>
#include <string>

#include "bench/widgets/scope.h"
#include "bench/widgets/text.h"
#include "bench/widgets/type.h"

namespace coilbook::bench {
bool button(const Look& look, const ButtonText& text, Weight weight, float width, float height,
            bool enabled) {
    const Theme& theme = *look.theme;
    const bool main = weight == Weight::main;
    const std::string_view key = enabled ? text.key : std::string_view();
    ImFont* font = main ? look.fonts.strong : look.fonts.text;
    const ImVec2 label = extent(font, text.label), hint = extent(look.fonts.small, key);
    const float gap = key.empty() ? 0 : look.px(10);
    const float inside = label.x + gap + hint.x;
    if (width <= 0) width = inside + look.px(32);
    if (height <= 0) height = look.px(44);

    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + width, low.y + height};
    const bool pressed =
        ImGui::InvisibleButton(std::string(text.id).c_str(), {width, height}) && enabled;
    note_item(look, text.id, text.label);
    const bool hovered = ImGui::IsItemHovered() && enabled;
    const bool held = ImGui::IsItemActive() && enabled;

    const float faint = enabled ? 1.0F : 0.5F;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float radius = look.px(7);
    const Colour fill = main && enabled ? theme.accent : theme.raised;
    list.AddRectFilled(low, high, ink(fill), radius);
    if (hovered || held) {
        list.AddRectFilled(low, high,
                           ink(main ? theme.on_accent : theme.text, held ? 0.20F : 0.09F), radius);
    }
    if (!main || !enabled) {
        list.AddRect(low, high, ink(enabled ? theme.field_border : theme.border), radius, 0,
                     look.px(1));
    }
    const Colour letters = main && enabled ? theme.on_accent : theme.text;
    const float x = low.x + (width - inside) / 2;
    put(list, font, {x, low.y + (height - label.y) / 2}, ink(letters, faint), text.label);
    if (!key.empty()) {
        const float baseline = (font->Ascent - look.fonts.small->Ascent);
        put(list, look.fonts.small, {x + label.x + gap, low.y + (height - label.y) / 2 + baseline},
            ink(main && enabled ? theme.on_accent : theme.muted, faint), key);
    }
    return pressed;
}

bool mark_button(const Look& look, std::string_view id, Mark mark, std::string_view says,
                 float size) {
    const Theme& theme = *look.theme;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const ImVec2 high{low.x + size, low.y + size};
    const bool pressed = ImGui::InvisibleButton(std::string(id).c_str(), {size, size});
    note_item(look, id, says);
    const bool hovered = ImGui::IsItemHovered();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(low, high, ink(hovered ? theme.border : theme.raised), look.px(7));
    list.AddRect(low, high, ink(theme.field_border), look.px(7), 0, look.px(1));
    draw_mark(list, mark, low.x + size / 2, low.y + size / 2, size * 0.2F, theme.text,
              theme.raised);
    if (hovered) {
        const TooltipScope tip;
        ImGui::TextUnformatted(says.data(), says.data() + says.size());
    }
    return pressed;
}

void key_hint(const Look& look, const KeyHint& hint) {
    const Theme& theme = *look.theme;
    ImFont* font = look.fonts.small;
    const ImVec2 cap = extent(font, hint.key), words = extent(font, hint.does);
    const float pad = look.px(6);
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float height = font->FontSize + look.px(6);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(low, {low.x + cap.x + 2 * pad, low.y + height}, ink(theme.raised),
                       look.px(4));
    list.AddRect(low, {low.x + cap.x + 2 * pad, low.y + height}, ink(theme.border), look.px(4), 0,
                 look.px(1));
    put(list, font, {low.x + pad, low.y + look.px(3)}, ink(theme.text), hint.key);
    put(list, font, {low.x + cap.x + 3 * pad, low.y + look.px(3)}, ink(theme.muted), hint.does);
    ImGui::Dummy({cap.x + 3 * pad + words.x + look.px(10), height});
}

}  // namespace coilbook::bench
