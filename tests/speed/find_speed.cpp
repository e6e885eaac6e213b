// How long a large catalogue takes until its first rows are shown, and how long each keystroke of a
// search takes.
// usage: find_speed CATALOGUE
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <exception>
#include <string>
#include <vector>

#include "app/find.h"
#include "app/workshop.h"

using namespace coilbook;

namespace {

// By the clock on the wall and by the processor's, in ms: on a busy machine they differ.
struct Took {
    double wall = 0.0, processor = 0.0;
};
class Timer {
  public:
    [[nodiscard]] Took took() const {
        const std::chrono::duration<double, std::milli> wall = Clock::now() - start_;
        return {wall.count(), processor_now() - processor_};
    }

  private:
    using Clock = std::chrono::steady_clock;
    static double processor_now() {
        timespec now{};
        ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
        return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
    }
    Clock::time_point start_ = Clock::now();
    double processor_ = processor_now();
};

// What people would look for: a code, a class, a place, colours and words, ranges, and both.
const std::vector<std::string> searches{
    "C123456",
    "dark",
    "dark drift",
    "from the drift boat",
    "shop level",
    "pale nothinglikethis",
    "10..12",
    "4..4.4 g/cm3",
    "0.8..0.9 mm 10..12",
    "6..7 in/s dark",
    "drift 11..11.1",
    "level 10..12 4..4.1 g/cm3",
    "drift 11..11.5",
    "brown drift 11..11.1",
    "c 11..11.02",
    "dark 5..20",
    "nick 19.9..20",
};

struct Keystroke {
    Took took;
    std::string typed;
};

void tell(const char* what, std::vector<Keystroke> strokes, double Took::*clock) {
    std::ranges::sort(strokes, {}, [=](const Keystroke& each) { return each.took.*clock; });
    const auto at = [&](double part) {
        return strokes[static_cast<std::size_t>(part * static_cast<double>(strokes.size() - 1))]
                   .took.*
               clock;
    };
    std::printf(
        "%zu keystrokes, %s: half within %.2f ms, 95 %% within %.2f ms, all within %.2f ms\n",
        strokes.size(), what, at(0.5), at(0.95), at(1.0));
    for (std::size_t n = 0; n < std::min<std::size_t>(5, strokes.size()); ++n) {
        const auto& slow = strokes[strokes.size() - 1 - n];
        std::printf("  slow: %8.2f ms for '%s'\n", slow.took.*clock, slow.typed.c_str());
    }
}

int measure(const std::string& file) {
    const Timer opening;
    const auto say = [&](const char* what) {
        const auto took = opening.took();
        std::printf("%s after %.1f ms, %.1f ms of the processor\n", what, took.wall,
                    took.processor);
    };
    auto workshop = app::Workshop::open(file, app::real_surroundings("find_speed"));
    say("opened");
    app::Finder finder(workshop);
    finder.refresh();
    say("index at hand");
    (void)finder.find({});
    say("first rows");
    std::vector<Keystroke> strokes;
    for (const auto& search : searches) {
        for (std::size_t length = 1; length <= search.size(); ++length) {
            const auto typed = search.substr(0, length);
            const Timer timer;
            const auto query = app::query_from(typed);
            if (!query) continue;  // a range that is only half typed
            (void)finder.find(*query);
            strokes.push_back({timer.took(), typed});
        }
    }
    tell("by the wall's clock", strokes, &Took::wall);
    tell("by the processor's", strokes, &Took::processor);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fprintf(stderr, "usage: find_speed CATALOGUE\n");
        return 2;
    }
    try {
        return measure(argv[1]);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
}
