// Begin and End, Push and Pop of the widget library as scopes that close themselves.
#pragma once

#include <imgui.h>

#include "bench/widgets/ink.h"

namespace coilbook::bench {

// A part of the window with its own scroll position. The id is its identity: keep it stable.
class ChildScope {
  public:
    ChildScope(const char* id, ImVec2 size, bool border, ImGuiWindowFlags flags = 0) {
        ImGui::BeginChild(id, size, border, flags);
    }
    ~ChildScope() { ImGui::EndChild(); }
    ChildScope(const ChildScope&) = delete;
    ChildScope& operator=(const ChildScope&) = delete;
};

class IdScope {
  public:
    explicit IdScope(const char* id) { ImGui::PushID(id); }
    explicit IdScope(int id) { ImGui::PushID(id); }
    ~IdScope() { ImGui::PopID(); }
    IdScope(const IdScope&) = delete;
    IdScope& operator=(const IdScope&) = delete;
};

class FontScope {
  public:
    explicit FontScope(ImFont* font) { ImGui::PushFont(font); }
    ~FontScope() { ImGui::PopFont(); }
    FontScope(const FontScope&) = delete;
    FontScope& operator=(const FontScope&) = delete;
};

class ColourScope {
  public:
    ColourScope(ImGuiCol_ part, Colour colour, float opacity = 1.0F) {
        ImGui::PushStyleColor(part, ink(colour, opacity));
    }
    ~ColourScope() { ImGui::PopStyleColor(); }
    ColourScope(const ColourScope&) = delete;
    ColourScope& operator=(const ColourScope&) = delete;
};

class StyleScope {
  public:
    StyleScope(ImGuiStyleVar_ part, float value) { ImGui::PushStyleVar(part, value); }
    StyleScope(ImGuiStyleVar_ part, ImVec2 value) { ImGui::PushStyleVar(part, value); }
    ~StyleScope() { ImGui::PopStyleVar(); }
    StyleScope(const StyleScope&) = delete;
    StyleScope& operator=(const StyleScope&) = delete;
};

class GroupScope {
  public:
    GroupScope() { ImGui::BeginGroup(); }
    ~GroupScope() { ImGui::EndGroup(); }
    GroupScope(const GroupScope&) = delete;
    GroupScope& operator=(const GroupScope&) = delete;
};

class ClipScope {
  public:
    ClipScope(ImDrawList& list, ImVec2 low, ImVec2 high) : list_(list) {
        list_.PushClipRect(low, high, true);
    }
    ~ClipScope() { list_.PopClipRect(); }
    ClipScope(const ClipScope&) = delete;
    ClipScope& operator=(const ClipScope&) = delete;

  private:
    ImDrawList& list_;
};

class TooltipScope {
  public:
    TooltipScope() { ImGui::BeginTooltip(); }
    ~TooltipScope() { ImGui::EndTooltip(); }
    TooltipScope(const TooltipScope&) = delete;
    TooltipScope& operator=(const TooltipScope&) = delete;
};

}  // namespace coilbook::bench
