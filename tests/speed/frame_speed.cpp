// How much of the window's own processor time a frame takes (rasterising is the graphics driver's
// and is left out), and how long it is from a catalogue on disk to its first frame. The care before
// a day's first change begins beside the frames when somebody types, and would be counted with them:
// change something in the catalogue first (`coilbook coils add ZZ1`).
// usage: frame_speed CATALOGUE
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>
#include <functional>
#include <vector>

#include "bench/catalogue_screen.h"
#include "bench/shell/top_bar.h"
#include "support/robot.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

// Of both hands (bench/worker.h).
double processor_ms() {
    timespec time{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return 1e3 * static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_nsec);
}

void tell(std::string_view what, std::vector<double> times) {
    std::ranges::sort(times);
    const auto share = [&](double part) {
        return times[static_cast<std::size_t>(part * static_cast<double>(times.size() - 1))];
    };
    fmt::print("{:<44} median {:6.2f} ms, 99 % {:6.2f} ms, most {:6.2f} ms\n", what, share(0.5),
               share(0.99), times.back());
}

// A pointer that wanders over the page with its wheel turning, as a person looks for something.
constexpr int frames = 400;
constexpr float width = 1280, height = 800;

void measure(std::string_view what, CatalogueScreen& screen, Robot& robot,
             const std::function<void(int)>& before_frame) {
    std::vector<double> times;
    for (int at = 0; at < frames; ++at) {
        before_frame(at);
        const double start = processor_ms();
        robot.frames(1);
        screen.act();
        times.push_back(processor_ms() - start);
    }
    tell(what, times);
}

void wander(Robot& robot, int at) {
    const auto turn = static_cast<float>(at);
    robot.point_at(width * (0.5F + 0.45F * std::sin(turn * 0.11F)),
                   height * (0.5F + 0.4F * std::sin(turn * 0.07F)), at % 3 == 0 ? -2.0F : 0.0F);
}

}  // namespace

int main(int count, char** words) {
    if (count != 2) {
        fmt::print(stderr, "usage: frame_speed CATALOGUE\n");
        return 2;
    }
    const auto start = std::chrono::steady_clock::now();
    CatalogueScreen screen(
        app::Workshop::open_at_once(words[1], app::real_surroundings("frame_speed")), "bench", {},
        std::make_shared<std::vector<std::string>>());
    screen.show_work_after(std::chrono::minutes(1));
    Robot robot(width, height, [&](const Look& look) {
        (void)draw_top_bar(look, ThemeName::light, "bench",
                           [&](float wide, float high) { screen.draw_in_bar(look, wide, high); });
        screen.draw(look);
    });
    robot.frames(1);
    const std::chrono::duration<double, std::milli> first =
        std::chrono::steady_clock::now() - start;
    fmt::print("{:<44} {:6.0f} ms by the clock\n", "from the file to the first frame",
               first.count());

    const double before = processor_ms();
    while (screen.is_busy()) screen.act();
    fmt::print("{:<44} {:6.0f} ms of processor, by and by\n", "until every verdict is known",
               processor_ms() - before);
    for (const std::string_view page : screen.page_names()) {
        screen.perform(page);
        robot.frames(4);
        while (screen.is_busy()) screen.act();
        robot.frames(4);
        measure(fmt::format("{}, looked over", page), screen, robot,
                [&](int at) { wander(robot, at); });
    }
    screen.perform("Bin");
    robot.frames(4);
    measure("Bin, a word typed into its search", screen, robot,
            [&](int at) { robot.burst(at % 8 == 7 ? "\b" : std::string(1, "t-11 1a"[at % 7])); });
    screen.perform("Bench");
    robot.frames(4);
    robot.press_with_control('F');
    measure("Bench, a code typed", screen, robot, [&](int at) {
        robot.burst(std::string(1, "c1234567"[at % 8]));
        if (at % 8 == 7) robot.press_with_control('F');
    });
    return 0;
}
