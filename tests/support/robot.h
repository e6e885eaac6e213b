// Drives pages without a window: deals out keys and mouse through the same queue as the program,
// draws frames that nobody sees, and looks at what was drawn through a Witness.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "bench/shell/apply_input.h"
#include "bench/shell/input_queue.h"
#include "bench/widgets/look.h"
#include "bench/widgets/witness.h"

namespace coilbook::bench {

// REQUIRES: one at a time; the widget library has one context.
class Robot {
  public:
    using Draw = std::function<void(const Look&)>;

    // `draw` draws one frame and may act on what was posted in it.
    Robot(float width, float height, Draw draw, ThemeName theme = ThemeName::light,
          float scale = 1.0F);
    ~Robot();
    Robot(const Robot&) = delete;
    Robot& operator=(const Robot&) = delete;

    // Draws `count` frames, and then more until the queue is empty.
    void frames(int count = 4);

    void type(
        std::string_view ascii);  // keys and characters, as a device sends them; '\n' is Enter
    void press(int key);          // down and up
    void press_with_control(int key);
    // Clicks the middle of the widget of that name. Throws Error if it is not to be seen.
    void click(std::string_view name);
    // Presses on the middle of it, moves so many pixels and lets go; `at_once` within one frame or
    // two.
    void drag(std::string_view name, float right, float down, bool at_once = false);
    // Turns the wheel over the middle of it; above 0 away from the person.
    void turn_wheel(std::string_view name, float by);
    // The mouse is there now and its wheel has turned; seen in the next frame.
    void point_at(float x, float y, float wheel);
    // Events without frames between them: what a fast device does within one frame.
    void burst(std::string_view ascii);

    // The widget as drawn last. Throws Error if it was not drawn.
    [[nodiscard]] const Seen& see(std::string_view name) const;
    [[nodiscard]] bool sees(std::string_view name) const { return witness_.find(name) != nullptr; }

  private:
    void frame();

    Draw draw_;
    Witness witness_;
    Look look_;
    InputQueue queue_;
    Pointer pointer_;
};

}  // namespace coilbook::bench
