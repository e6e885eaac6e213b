// One window of the system with a drawing context; its input goes into an InputQueue.
#pragma once

#include <string>
#include <vector>

#include "bench/shell/input_queue.h"
#include "bench/shell/options.h"

struct GLFWwindow;

namespace coilbook::bench {

// Everything that happened since the last look, and how many frames it takes to show it.
struct WindowEvents {
    InputQueue queue;
    int frames_due = 0;                      // frames to draw before the picture is complete
    std::vector<std::string> dropped_files;  // paths, in the order of dropping

    // A change of state is visible one frame after the widget saw it, and what follows from that
    // (a layout, a scroll bar) two more; re-armed by every event, or the picture goes stale.
    static constexpr int frames_to_settle = 4;
    void wake() { frames_due = frames_to_settle; }
};

// REQUIRES: one at a time. Not movable: the system's callbacks know its address.
class Window {
  public:
    // Opens it. Throws Error, with words for the person, where there is no display or no OpenGL.
    Window(WindowSize size, const std::string& title);
    ~Window();
    Window(const Window&) = delete;
    Window& operator=(const Window&) = delete;

    [[nodiscard]] WindowEvents& events() { return events_; }
    [[nodiscard]] GLFWwindow* handle() const { return handle_; }

    [[nodiscard]] bool should_close() const;
    void close();  // as if the person had closed it
    // Sleeps until something happens, at most `seconds` if that is above 0, or not at all if
    // frames are due or input waits; with `keys_wait` input may wait.
    void wait(double seconds, bool keys_wait = false);
    // Ends the sleep of wait() from another thread.
    static void wake_from_elsewhere();

    [[nodiscard]] float content_scale() const;  // of the monitor it is on; 1 if not known
    [[nodiscard]] WindowSize pixels() const;    // of the drawing surface
    [[nodiscard]] bool is_minimised() const;
    void set_title(const std::string& title);
    void show_frame();  // what was drawn becomes visible

  private:
    GLFWwindow* handle_ = nullptr;
    WindowEvents events_;
};

}  // namespace coilbook::bench
