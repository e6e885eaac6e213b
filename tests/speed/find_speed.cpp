// How long a large catalogue takes until its first rows are shown, and how long each keystroke of a
// search takes.
// usage: find_speed CATALOGUE
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "app/find.h"
#include "app/workshop.h"

using namespace coilbook;

namespace {

using Clock = std::chrono::steady_clock;
double milliseconds_since(Clock::time_point start) {
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

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
};

int measure(const std::string& file) {
    auto start = Clock::now();
    auto workshop = app::Workshop::open(file, app::real_surroundings("find_speed"));
    const double opened = milliseconds_since(start);
    app::Finder finder(workshop);
    finder.refresh();
    const double refreshed = milliseconds_since(start);
    const auto first = finder.find({});
    std::printf("opened in %.1f ms, index at hand after %.1f ms, first %zu rows after %.1f ms\n",
                opened, refreshed, first.entries.size(), milliseconds_since(start));

    struct Keystroke {
        double took;
        std::string typed;
    };
    std::vector<Keystroke> strokes;
    for (const auto& search : searches) {
        for (std::size_t length = 1; length <= search.size(); ++length) {
            const auto typed = search.substr(0, length);
            start = Clock::now();
            const auto query = app::query_from(typed);
            if (!query) continue;  // a range that is only half typed
            (void)finder.find(*query);
            strokes.push_back({milliseconds_since(start), typed});
        }
    }
    std::ranges::sort(strokes, {}, &Keystroke::took);
    const auto at = [&](double part) {
        return strokes[static_cast<std::size_t>(part * static_cast<double>(strokes.size() - 1))];
    };
    std::printf("%zu keystrokes: half within %.2f ms, 95 %% within %.2f ms, all within %.2f ms\n",
                strokes.size(), at(0.5).took, at(0.95).took, at(1.0).took);
    for (std::size_t n = 0; n < std::min<std::size_t>(5, strokes.size()); ++n) {
        const auto& slow = strokes[strokes.size() - 1 - n];
        std::printf("  slow: %8.2f ms for '%s'\n", slow.took, slow.typed.c_str());
    }
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
