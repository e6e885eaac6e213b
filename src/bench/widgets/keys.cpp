#include "bench/widgets/keys.h"

#include <imgui.h>

#include <array>
#include <utility>

namespace coilbook::bench {

bool pressed(const Chord& chord) {
    const ImGuiIO& io = ImGui::GetIO();
    if (io.KeyCtrl != chord.control || io.KeyAlt != chord.alt || io.KeySuper) return false;
    if (io.KeyShift != chord.shift) return false;
    const bool repeats = !chord.control && !chord.alt;
    if (chord.key == key::enter && ImGui::IsKeyPressed(key::pad_enter, false)) return true;
    return ImGui::IsKeyPressed(chord.key, repeats);
}

std::string name_of(const Chord& chord) {
    constexpr std::array<std::pair<int, std::string_view>, 14> named{{{key::escape, "Esc"},
                                                                      {key::enter, "Enter"},
                                                                      {key::tab, "Tab"},
                                                                      {key::backspace, "Backspace"},
                                                                      {key::del, "Delete"},
                                                                      {key::right, "→"},
                                                                      {key::left, "←"},
                                                                      {key::down, "↓"},
                                                                      {key::up, "↑"},
                                                                      {key::page_up, "Page ↑"},
                                                                      {key::page_down, "Page ↓"},
                                                                      {key::home, "Home"},
                                                                      {key::end, "End"},
                                                                      {' ', "Space"}}};
    std::string name;
    if (chord.control) name += "Ctrl ";
    if (chord.alt) name += "Alt ";
    if (chord.shift) name += "Shift ";
    for (const auto& [key, word] : named) {
        if (key == chord.key) return name.append(word);
    }
    if (chord.key >= key::f1 && chord.key < key::f1 + 12) {
        return name + "F" + std::to_string(chord.key - key::f1 + 1);
    }
    return name + static_cast<char>(chord.key);
}

bool typed_something() {
    return !ImGui::GetIO().InputQueueCharacters.empty();
}

bool control_pressed(int key) {
    const ImGuiIO& io = ImGui::GetIO();
    return io.KeyCtrl && !io.KeyAlt && !io.KeySuper && ImGui::IsKeyPressed(key, false);
}

bool plain_pressed(int key) {
    const ImGuiIO& io = ImGui::GetIO();
    return !io.KeyCtrl && !io.KeyAlt && !io.KeySuper && ImGui::IsKeyPressed(key, true);
}

}  // namespace coilbook::bench
