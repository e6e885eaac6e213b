#include "bench/shell/apply_input.h"

#include <imgui.h>

#include <algorithm>

#include "bench/widgets/keys.h"

namespace coilbook::bench {
namespace {

static_assert(key::count <= IM_ARRAYSIZE(ImGuiIO::KeysDown));

void apply(const KeyEvent& event, ImGuiIO& io) {
    if (event.key < 0 || event.key >= key::count) return;
    io.KeysDown[event.key] = event.down;
    const auto either = [&io](int left, int right) {
        return io.KeysDown[left] || io.KeysDown[right];
    };
    io.KeyCtrl = either(key::left_control, key::right_control);
    io.KeyShift = either(key::left_shift, key::right_shift);
    io.KeyAlt = either(key::left_alt, key::right_alt);
    io.KeySuper = either(key::left_super, key::right_super);
}

}  // namespace

void name_keys(ImGuiIO& io) {
    io.KeyMap[ImGuiKey_Tab] = key::tab;
    io.KeyMap[ImGuiKey_LeftArrow] = key::left;
    io.KeyMap[ImGuiKey_RightArrow] = key::right;
    io.KeyMap[ImGuiKey_UpArrow] = key::up;
    io.KeyMap[ImGuiKey_DownArrow] = key::down;
    io.KeyMap[ImGuiKey_PageUp] = key::page_up;
    io.KeyMap[ImGuiKey_PageDown] = key::page_down;
    io.KeyMap[ImGuiKey_Home] = key::home;
    io.KeyMap[ImGuiKey_End] = key::end;
    io.KeyMap[ImGuiKey_Insert] = key::insert;
    io.KeyMap[ImGuiKey_Delete] = key::del;
    io.KeyMap[ImGuiKey_Backspace] = key::backspace;
    io.KeyMap[ImGuiKey_Space] = ' ';
    io.KeyMap[ImGuiKey_Enter] = key::enter;
    io.KeyMap[ImGuiKey_Escape] = key::escape;
    io.KeyMap[ImGuiKey_KeyPadEnter] = key::pad_enter;
    io.KeyMap[ImGuiKey_A] = 'A';
    io.KeyMap[ImGuiKey_C] = 'C';
    io.KeyMap[ImGuiKey_V] = 'V';
    io.KeyMap[ImGuiKey_X] = 'X';
    io.KeyMap[ImGuiKey_Y] = 'Y';
    io.KeyMap[ImGuiKey_Z] = 'Z';
}

void apply_input(std::span<const InputEvent> events, Pointer& pointer, ImGuiIO& io) {
    io.MouseWheel = io.MouseWheelH = 0.0F;
    for (const InputEvent& event : events) {
        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            apply(*key, io);
        } else if (const auto* typed = std::get_if<CharacterEvent>(&event)) {
            io.AddInputCharacter(static_cast<unsigned int>(typed->character));
        } else if (const auto* button = std::get_if<ButtonEvent>(&event)) {
            if (button->button >= 0 && button->button < 3) {
                pointer.down[button->button] = button->down;
            }
        } else if (const auto* moved = std::get_if<PointerEvent>(&event)) {
            pointer.x = moved->x;
            pointer.y = moved->y;
        } else if (const auto* wheel = std::get_if<WheelEvent>(&event)) {
            io.MouseWheel += wheel->y;
            io.MouseWheelH += wheel->x;
        }
    }
    io.MousePos = {pointer.x, pointer.y};
    std::ranges::copy(pointer.down, io.MouseDown);
}

}  // namespace coilbook::bench
