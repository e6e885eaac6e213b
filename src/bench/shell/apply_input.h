// Tells the widget library what came out of the input queue. Used by the window and by tests.
#pragma once

#include <span>

#include "bench/shell/input_queue.h"

struct ImGuiIO;

namespace coilbook::bench {

// The mouse as told so far; the widget library asks for it anew each frame.
struct Pointer {
    float x = -1e6F, y = -1e6F;  // far outside until it is known
    bool down[3] = {false, false, false};
};

// Tells `io` which key is which; once after the context was made.
void name_keys(ImGuiIO& io);

// Applies `events` in order. To be called right before ImGui::NewFrame.
void apply_input(std::span<const InputEvent> events, Pointer& pointer, ImGuiIO& io);

}  // namespace coilbook::bench
