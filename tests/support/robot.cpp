#include "support/robot.h"

#include <imgui.h>

#include "base/error.h"
#include "bench/shell/fonts.h"
#include "bench/shell/style.h"
#include "bench/widgets/keys.h"

namespace coilbook::bench {

Robot::Robot(float width, float height, Draw draw, ThemeName name, float scale)
    : draw_(std::move(draw)) {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.ConfigInputTextCursorBlink = false;
    io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;  // as the window's own renderer
    io.DisplaySize = {width, height};
    name_keys(io);
    look_.theme = &theme(name);
    look_.scale = scale;
    look_.witness = &witness_;
    look_.fonts = build_fonts(*io.Fonts, scale);
    apply_style(look_);
}

Robot::~Robot() {
    ImGui::DestroyContext();
}

void Robot::frame() {
    ImGuiIO& io = ImGui::GetIO();
    io.DeltaTime = 1.0F / 60.0F;
    apply_input(queue_.next_frame(io.WantTextInput), pointer_, io);
    witness_.forget();
    ImGui::NewFrame();
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::Begin("window", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
    draw_(look_);
    ImGui::End();
    ImGui::Render();
}

void Robot::frames(int count) {
    for (int at = 0; at < count; ++at) frame();
    for (int at = 0; at < 10000 && !queue_.is_idle(); ++at) frame();
}

void Robot::burst(std::string_view ascii) {
    for (const char c : ascii) {
        const int key = c == '\n'              ? key::enter
                        : c >= 'a' && c <= 'z' ? c - 'a' + 'A'
                                               : static_cast<int>(static_cast<unsigned char>(c));
        queue_.push(KeyEvent{key, true});
        if (c != '\n') queue_.push(CharacterEvent{static_cast<char32_t>(c)});
        queue_.push(KeyEvent{key, false});
    }
}

void Robot::type(std::string_view ascii) {
    burst(ascii);
    frames();
}

void Robot::press(int key) {
    queue_.push(KeyEvent{key, true});
    queue_.push(KeyEvent{key, false});
    frames();
}

void Robot::press_with_control(int key) {
    queue_.push(KeyEvent{key::left_control, true});
    queue_.push(KeyEvent{key, true});
    queue_.push(KeyEvent{key, false});
    queue_.push(KeyEvent{key::left_control, false});
    frames();
}

void Robot::click(std::string_view name) {
    const Seen& seen = see(name);
    if (!seen.visible) throw Error("'" + std::string(name) + "' is scrolled away");
    queue_.push(PointerEvent{seen.centre_x(), seen.centre_y()});
    queue_.push(ButtonEvent{0, true});
    queue_.push(ButtonEvent{0, false});
    frames();
}

void Robot::drag(std::string_view name, float right, float down, bool at_once) {
    const Seen& seen = see(name);
    const float x = seen.centre_x(), y = seen.centre_y();
    queue_.push(PointerEvent{x, y});
    queue_.push(ButtonEvent{0, true});
    if (!at_once) frames();
    queue_.push(PointerEvent{x + right, y + down});
    if (!at_once) frames();
    queue_.push(ButtonEvent{0, false});
    frames();
}

void Robot::turn_wheel(std::string_view name, float by) {
    const Seen& seen = see(name);
    queue_.push(PointerEvent{seen.centre_x(), seen.centre_y()});
    frames();
    queue_.push(WheelEvent{0.0F, by});
    frames();
}

void Robot::point_at(float x, float y, float wheel) {
    queue_.push(PointerEvent{x, y});
    if (wheel != 0) queue_.push(WheelEvent{0.0F, wheel});
}

const Seen& Robot::see(std::string_view name) const {
    const Seen* seen = witness_.find(name);
    if (seen == nullptr) throw Error("'" + std::string(name) + "' was not drawn");
    return *seen;
}

}  // namespace coilbook::bench
