// The main loop: sleeps until something happens, deals out input, draws, and lets the pages act.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "bench/shell/options.h"
#include "bench/shell/top_bar.h"
#include "bench/widgets/look.h"

namespace coilbook::bench {

// What the window shows below its top bar. Implemented by the program, which owns the pages.
class Screen {
  public:
    Screen() = default;
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;
    virtual ~Screen() = default;

    // What the system calls the window: the coil in hand and its verdict.
    [[nodiscard]] virtual std::string title() = 0;
    // The catalogue at hand and its state in a few words, for the top bar.
    [[nodiscard]] virtual std::string subtitle() const = 0;
    // Draws what belongs into the top bar, at the cursor; see top_bar.h.
    virtual void draw_in_bar(const Look& look, float width, float height) = 0;
    // Draws into the current window of the widget library.
    virtual void draw(const Look& look) = 0;
    // Files were dropped on the window. Called between frames.
    virtual void receive(const std::vector<std::string>& files) = 0;
    // Carries out what was posted while drawing. Gives whether anything changed.
    virtual bool act() = 0;
    // What was asked of the window itself while the last frame was drawn.
    [[nodiscard]] virtual TopBarWish take_wish() = 0;
    // What is drawn is being worked on: what was drawn last stays, draw() alone is called and draws
    // over it, and keys wait for the end, in their order; Esc and the mouse alone get through.
    [[nodiscard]] virtual bool keeps_still() const { return false; }
    // Work is going on elsewhere whose end must be shown.
    [[nodiscard]] virtual bool is_busy() const = 0;
};

// How the window looks, as far as the person chose it.
struct WindowLook {
    WindowSize size;
    ThemeName theme = ThemeName::light;
    std::optional<float> scale;  // nothing: the monitor's
    bool is_large = false;       // for cold fingers

    bool operator==(const WindowLook&) const = default;
};

// Runs the window until it is closed or, with `screenshot`, until the picture is written to that
// file. `remember` is told how the window looks whenever that has changed. Throws Error if the
// window cannot be opened or the picture not be written.
void run_window(const WindowLook& look, const std::optional<std::string>& screenshot,
                Screen& screen, const std::function<void(const WindowLook&)>& remember);

}  // namespace coilbook::bench
