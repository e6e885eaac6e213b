#include "bench/widgets/keys.h"

#include <imgui.h>

namespace coilbook::bench {

bool control_pressed(int key) {
    const ImGuiIO& io = ImGui::GetIO();
    return io.KeyCtrl && !io.KeyAlt && !io.KeySuper && ImGui::IsKeyPressed(key, false);
}

bool plain_pressed(int key) {
    const ImGuiIO& io = ImGui::GetIO();
    return !io.KeyCtrl && !io.KeyAlt && !io.KeySuper && ImGui::IsKeyPressed(key, true);
}

}  // namespace coilbook::bench
