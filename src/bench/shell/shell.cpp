#include "bench/shell/shell.h"

#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include <GL/gl.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <optional>
#include <utility>

#include "bench/shell/apply_input.h"
#include "bench/shell/fonts.h"
#include "bench/shell/photos.h"
#include "bench/shell/picture.h"
#include "bench/shell/still_picture.h"
#include "bench/shell/style.h"
#include "bench/shell/top_bar.h"
#include "bench/shell/window.h"

namespace coilbook::bench {
namespace {

// The widget library for as long as the window is open.
class Widgets {
  public:
    explicit Widgets(GLFWwindow* window) {
        IMGUI_CHECKVERSION();
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;               // remembers nothing
        io.ConfigInputTextCursorBlink = false;  // a window that sleeps cannot blink
        ImGui_ImplGlfw_InitForOpenGL(window, false);
        ImGui_ImplOpenGL3_Init("#version 130");
        name_keys(io);
    }
    ~Widgets() {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
    }
    Widgets(const Widgets&) = delete;
    Widgets& operator=(const Widgets&) = delete;
};

// Seconds between looks at what other programs have done; nothing is drawn unless they did.
constexpr double look_round_every = 1.0;
// The same at work that takes its time.
constexpr double look_at_work_every = 0.05;

constexpr std::chrono::milliseconds longest_unseen{60};

// The steps of Ctrl+plus and Ctrl+minus.
constexpr std::array scale_steps{0.75F, 0.9F, 1.0F, 1.25F, 1.5F, 1.75F, 2.0F, 2.5F, 3.0F, 4.0F};

float stepped(float scale, int direction) {
    if (direction > 0) {
        for (const float step : scale_steps) {
            if (step > scale + 0.01F) return step;
        }
        return scale_steps.back();
    }
    for (auto step = scale_steps.rbegin(); step != scale_steps.rend(); ++step) {
        if (*step < scale - 0.01F) return *step;
    }
    return scale_steps.front();
}

// For cold fingers everything is so much larger.
constexpr float cold_fingers = 1.5F;

class Shell {
  public:
    Shell(const WindowLook& look, Screen& screen,
          const std::function<void(const WindowLook&)>& remember)
        : window_(look.size, "Coilbook"),
          widgets_(window_.handle()),
          screen_(screen),
          shown_(look),
          remembered_(look),
          remember_(remember) {
        look_.photos = &photos_;
    }

    void run(const std::optional<std::string>& screenshot) {
        while (!window_.should_close()) {
            const bool keys_wait = screen_.keeps_still();
            window_.wait(keys_wait           ? look_at_work_every
                         : screen_.is_busy() ? 0.001
                                             : look_round_every,
                         keys_wait);
            if (const auto files = std::exchange(window_.events().dropped_files, {});
                !files.empty()) {
                screen_.receive(files);
                window_.events().wake();
            }
            act();
            if (window_.is_minimised()) {
                window_.events().frames_due = 0;
                continue;
            }
            if (window_.events().frames_due == 0 &&
                (still_.is_there() || window_.events().queue.is_idle())) {
                remember();
                continue;
            }
            if (window_.events().frames_due > 0) --window_.events().frames_due;
            frame();
            // Frames between waiting keys are not worth painting, but now and then one is, so that
            // a long burst is seen to arrive.
            const auto now = std::chrono::steady_clock::now();
            if (!still_.is_there() && !window_.events().queue.is_idle() &&
                now - painted_ < longest_unseen) {
                continue;
            }
            painted_ = now;
            paint();
            const bool settled = window_.events().frames_due == 0 &&
                                 window_.events().queue.is_idle() && !screen_.is_busy();
            if (screenshot && settled) {
                write_picture(window_.pixels(), *screenshot);
                return;
            }
            window_.show_frame();
        }
        remember();
    }

  private:
    void remember() {
        if (!window_.is_minimised()) shown_.size = window_.pixels();
        if (shown_ == remembered_) return;
        remembered_ = shown_;
        remember_(shown_);
    }

    // Carries out what was posted. Where that goes on for longer, the last picture is kept, and
    // what was pressed before that was seen is not meant for it.
    void act() {
        if (screen_.act()) window_.events().wake();
        if (screen_.keeps_still() == still_.is_there()) return;
        if (still_.is_there()) {
            still_.drop();
        } else {
            still_.take();
            window_.wait(0.001, true);
            window_.events().queue.keep_waiting();
        }
        window_.events().wake();
    }

    void frame() {
        if (!still_.is_there() || look_.fonts.text == nullptr) follow_look();
        ImGui_ImplOpenGL3_NewFrame();
        ImGui_ImplGlfw_NewFrame();
        ImGuiIO& io = ImGui::GetIO();
        const WindowSize size = window_.pixels();
        io.DisplaySize = {static_cast<float>(size.width), static_cast<float>(size.height)};
        io.DisplayFramebufferScale = {1, 1};
        // After a long sleep no key was held for long: a large step would make it repeat.
        io.DeltaTime = std::clamp(io.DeltaTime, 1e-4F, 0.05F);
        auto& queue = window_.events().queue;
        const auto input =
            still_.is_there() ? queue.past_the_keys() : queue.next_frame(io.WantTextInput);
        if (!input.empty()) window_.events().wake();  // it may have waited longer than that
        apply_input(input, pointer_, io);
        ImGui::NewFrame();
        if (still_.is_there()) {
            screen_.draw(look_);
        } else {
            draw();
        }
        ImGui::Render();
        act();
        if (!still_.is_there()) follow_title();
        fulfil(screen_.take_wish());
    }

    void paint() {
        const WindowSize size = window_.pixels();
        const ImVec4 ground = ImGui::GetStyle().Colors[ImGuiCol_WindowBg];
        glViewport(0, 0, size.width, size.height);
        glClearColor(ground.x, ground.y, ground.z, 1.0F);
        glClear(GL_COLOR_BUFFER_BIT);
        still_.paint(size.width, size.height);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    }

    void draw() {
        ImGui::SetNextWindowPos({0, 0});
        ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
        ImGui::Begin("window", nullptr,
                     ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                         ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav |
                         ImGuiWindowFlags_NoBringToFrontOnFocus);
        const TopBarWish wish = draw_top_bar(
            look_, shown_.theme, screen_.subtitle(),
            [this](float width, float height) { screen_.draw_in_bar(look_, width, height); });
        screen_.draw(look_);
        ImGui::End();
        fulfil(wish);
    }

    void fulfil(const TopBarWish& wish) {
        if (wish.other_theme) shown_.theme = other(shown_.theme);
        if (wish.large) shown_.is_large = !shown_.is_large;
        if (wish.scale_step != 0) shown_.scale = stepped(own_scale(), wish.scale_step);
        if (wish.monitor_scale) shown_.scale.reset();
        if (wish.quit) window_.close();
        if (wish.any()) window_.events().wake();
    }

    [[nodiscard]] float own_scale() const { return shown_.scale.value_or(window_.content_scale()); }

    void follow_title() {
        const std::string title = screen_.title();
        if (title == title_) return;
        title_ = title;
        window_.set_title(title_);
    }

    // Brings style and fonts up to the theme and the scale, if one of them has changed.
    void follow_look() {
        const float scale = own_scale() * (shown_.is_large ? cold_fingers : 1.0F);
        const bool rescaled = scale != look_.scale || look_.fonts.text == nullptr;
        look_.is_large = shown_.is_large;
        if (!rescaled && look_.theme == &theme(shown_.theme)) return;
        look_.theme = &theme(shown_.theme);
        look_.scale = scale;
        apply_style(look_);
        if (rescaled) {
            look_.fonts = build_fonts(*ImGui::GetIO().Fonts, scale);
            ImGui_ImplOpenGL3_DestroyFontsTexture();
            ImGui_ImplOpenGL3_CreateFontsTexture();
        }
    }

    Window window_;
    Widgets widgets_;
    WindowPhotos photos_;
    Screen& screen_;
    Look look_;
    WindowLook shown_, remembered_;
    const std::function<void(const WindowLook&)>& remember_;
    Pointer pointer_;
    StillPicture still_;
    std::string title_;
    std::chrono::steady_clock::time_point painted_;
};

}  // namespace

void run_window(const WindowLook& look, const std::optional<std::string>& screenshot,
                Screen& screen, const std::function<void(const WindowLook&)>& remember) {
    Shell(look, screen, remember).run(screenshot);
}

}  // namespace coilbook::bench
