#include "bench/shell/window.h"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <cstring>

#include "base/error.h"
#include "bench/widgets/keys.h"

namespace coilbook::bench {
namespace {

static_assert(key::escape == GLFW_KEY_ESCAPE && key::enter == GLFW_KEY_ENTER &&
              key::tab == GLFW_KEY_TAB && key::backspace == GLFW_KEY_BACKSPACE &&
              key::insert == GLFW_KEY_INSERT && key::del == GLFW_KEY_DELETE &&
              key::right == GLFW_KEY_RIGHT && key::left == GLFW_KEY_LEFT &&
              key::down == GLFW_KEY_DOWN && key::up == GLFW_KEY_UP &&
              key::page_up == GLFW_KEY_PAGE_UP && key::page_down == GLFW_KEY_PAGE_DOWN &&
              key::home == GLFW_KEY_HOME && key::end == GLFW_KEY_END &&
              key::pad_minus == GLFW_KEY_KP_SUBTRACT && key::pad_plus == GLFW_KEY_KP_ADD &&
              key::pad_enter == GLFW_KEY_KP_ENTER && key::left_shift == GLFW_KEY_LEFT_SHIFT &&
              key::right_super == GLFW_KEY_RIGHT_SUPER && key::count > GLFW_KEY_LAST);

// What the window system said last when it refused something.
std::string& last_complaint() {
    static std::string text;
    return text;
}
void on_complaint(int, const char* text) {
    last_complaint() = text;
}

WindowEvents& events_of(GLFWwindow* window) {
    return *static_cast<WindowEvents*>(glfwGetWindowUserPointer(window));
}

// The key by what the person's layout prints on it, so that Ctrl+A is where they expect it.
int key_as_printed(int key, int scancode) {
    if (key >= GLFW_KEY_SPACE && key <= GLFW_KEY_WORLD_2) {
        const char* name = glfwGetKeyName(key, scancode);
        if (name != nullptr && std::strlen(name) == 1 && name[0] > ' ' && name[0] <= '~') {
            return name[0] >= 'a' && name[0] <= 'z' ? name[0] - 'a' + 'A' : name[0];
        }
    }
    return key;
}

void on_key(GLFWwindow* window, int key, int scancode, int action, int) {
    WindowEvents& events = events_of(window);
    events.wake();
    if (action == GLFW_REPEAT || key == GLFW_KEY_UNKNOWN) return;  // repeats come from the frames
    events.queue.push(KeyEvent{key_as_printed(key, scancode), action == GLFW_PRESS});
}
void on_character(GLFWwindow* window, unsigned int character) {
    events_of(window).wake();
    events_of(window).queue.push(CharacterEvent{static_cast<char32_t>(character)});
}
void on_button(GLFWwindow* window, int button, int action, int) {
    events_of(window).wake();
    events_of(window).queue.push(ButtonEvent{button, action == GLFW_PRESS});
}
void on_pointer(GLFWwindow* window, double x, double y) {
    events_of(window).wake();
    // The system counts in its own units where it scales windows itself; we draw in pixels.
    int wide = 0, high = 0, wide_pixels = 0, high_pixels = 0;
    glfwGetWindowSize(window, &wide, &high);
    glfwGetFramebufferSize(window, &wide_pixels, &high_pixels);
    if (wide > 0 && high > 0) {
        x *= static_cast<double>(wide_pixels) / wide;
        y *= static_cast<double>(high_pixels) / high;
    }
    events_of(window).queue.push(PointerEvent{static_cast<float>(x), static_cast<float>(y)});
}
void on_wheel(GLFWwindow* window, double x, double y) {
    events_of(window).wake();
    events_of(window).queue.push(WheelEvent{static_cast<float>(x), static_cast<float>(y)});
}
void on_enter(GLFWwindow* window, int entered) {
    events_of(window).wake();
    if (entered == 0) events_of(window).queue.push(PointerEvent{-1e6F, -1e6F});
}
void on_focus(GLFWwindow* window, int) {
    events_of(window).wake();
}
void on_size(GLFWwindow* window, int, int) {
    events_of(window).wake();
}
void on_refresh(GLFWwindow* window) {
    events_of(window).wake();
}
void on_content_scale(GLFWwindow* window, float, float) {
    events_of(window).wake();
}
void on_close(GLFWwindow* window) {
    events_of(window).wake();
}
void on_drop(GLFWwindow* window, int count, const char** paths) {
    events_of(window).wake();
    auto& dropped = events_of(window).dropped_files;
    dropped.insert(dropped.end(), paths, paths + count);
}

}  // namespace

Window::Window(WindowSize size, const std::string& title) {
    glfwSetErrorCallback(on_complaint);
    if (glfwInit() == GLFW_FALSE) {
        throw Error("no window can be opened (" + last_complaint() +
                    "); on a machine without a display use the command line, coilbook");
    }
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 0);
    handle_ = glfwCreateWindow(size.width, size.height, title.c_str(), nullptr, nullptr);
    if (handle_ == nullptr) {
        const std::string complaint = last_complaint();
        glfwTerminate();
        throw Error("no window with OpenGL 3 can be opened (" + complaint +
                    "); the command line, coilbook, needs none");
    }
    glfwSetWindowSizeLimits(handle_, 640, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
    glfwMakeContextCurrent(handle_);
    glfwSwapInterval(1);
    glfwSetWindowUserPointer(handle_, &events_);
    glfwSetKeyCallback(handle_, on_key);
    glfwSetCharCallback(handle_, on_character);
    glfwSetMouseButtonCallback(handle_, on_button);
    glfwSetCursorPosCallback(handle_, on_pointer);
    glfwSetScrollCallback(handle_, on_wheel);
    glfwSetCursorEnterCallback(handle_, on_enter);
    glfwSetWindowFocusCallback(handle_, on_focus);
    glfwSetWindowSizeCallback(handle_, on_size);
    glfwSetFramebufferSizeCallback(handle_, on_size);
    glfwSetWindowRefreshCallback(handle_, on_refresh);
    glfwSetWindowContentScaleCallback(handle_, on_content_scale);
    glfwSetWindowCloseCallback(handle_, on_close);
    glfwSetDropCallback(handle_, on_drop);
    events_.wake();
}

Window::~Window() {
    glfwDestroyWindow(handle_);
    glfwTerminate();
}

bool Window::should_close() const {
    return glfwWindowShouldClose(handle_) != GLFW_FALSE;
}

void Window::close() {
    glfwSetWindowShouldClose(handle_, GLFW_TRUE);
}

void Window::wait(double seconds, bool keys_wait) {
    if (events_.frames_due > 0 || (!keys_wait && !events_.queue.is_idle())) {
        glfwPollEvents();
    } else if (seconds > 0.0) {
        glfwWaitEventsTimeout(seconds);
    } else {
        glfwWaitEvents();
    }
}

void Window::wake_from_elsewhere() {
    glfwPostEmptyEvent();
}

float Window::content_scale() const {
    float x = 1.0F, y = 1.0F;
    glfwGetWindowContentScale(handle_, &x, &y);
    return y > 0.0F ? y : 1.0F;
}

WindowSize Window::pixels() const {
    WindowSize size;
    glfwGetFramebufferSize(handle_, &size.width, &size.height);
    return size;
}

bool Window::is_minimised() const {
    return glfwGetWindowAttrib(handle_, GLFW_ICONIFIED) != GLFW_FALSE;
}

void Window::set_title(const std::string& title) {
    glfwSetWindowTitle(handle_, title.c_str());
}

void Window::show_frame() {
    glfwSwapBuffers(handle_);
}

}  // namespace coilbook::bench
