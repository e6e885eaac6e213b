// How long the window's longest actions take by the clock, on a copy of a large catalogue, and the
// longest of these moments in which the window did not answer: what takes longer is done by its
// other hand (bench/worker.h), and it goes on drawing. usage: wait_speed CATALOGUE [CODES], where
// CODES is what the codes begin with of the coils that many are taken of.
#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <string_view>
#include <thread>

#include "app/coil_changes.h"
#include "app/outfit.h"
#include "bench/catalogue_screen.h"
#include "bench/pages/bin/bin_page.h"
#include "bench/shell/top_bar.h"
#include "support/robot.h"
#include "support/temporary_folder.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

class Waits {
  public:
    explicit Waits(const std::filesystem::path& file)
        : file_(file),
          screen_(
              app::Workshop::in_memory(surroundings_), "bench",
              [this](const std::string& path) { return app::Workshop::open(path, surroundings_); },
              std::make_shared<std::vector<std::string>>()),
          robot_(1280, 800, [this](const Look& look) {
              if (!screen_.keeps_still()) {
                  (void)draw_top_bar(look, ThemeName::light, "bench", [&](float wide, float high) {
                      screen_.draw_in_bar(look, wide, high);
                  });
              }
              screen_.draw(look);
          }) {}

    // From the action until nothing is at work any more and the page is drawn again.
    void measure(std::string_view what, const std::function<void()>& action) {
        const auto start = Clock::now();
        double longest = 0;
        const auto timed = [&](const auto& part) {
            const auto begun = Clock::now();
            part();
            longest = std::max(longest, seconds_since(begun));
        };
        timed(action);
        do {
            timed([&] { screen_.act(); });
            timed([&] { robot_.frames(1); });
            if (screen_.keeps_still()) std::this_thread::sleep_for(std::chrono::milliseconds(5));
        } while (screen_.keeps_still());
        timed([&] { robot_.frames(1); });
        fmt::print("{:<44} {:7.2f} s, without an answer {:5.2f} s\n", what, seconds_since(start),
                   longest);
        std::fflush(stdout);
    }
    void perform(const char* what, const char* action) {
        measure(what, [&] { screen_.perform(action); });
    }

    void all(const std::string& codes) {
        measure("opening", [&] { screen_.open_first(file_.string()); });
        measure("every verdict", [&] {
            while (screen_.is_busy()) screen_.act();
        });
        perform("the first change of the day", "give a code");
        perform("the second change", "give a code");
        auto other = app::Workshop::open(file_, surroundings_);
        (void)app::add_coil(other, "X3");
        (void)app::add_boat(other, "Heron", 3, "");
        measure("another program changed something", [] {});
        for (const auto page : screen_.page_names()) {
            measure(fmt::format("going to {}", page), [&] { screen_.perform(page); });
        }
        screen_.perform("Bin");
        auto& bin = dynamic_cast<bin_page::BinPage&>(screen_.page()).desk();
        measure("looking for them", [&] { bin.form().looked_for = codes; });
        perform("ticking them", "tick all");
        fmt::print("{}\n", bin.view().summary);
        measure("labels of them", [&] { screen_.perform("labels"); });
        fmt::print("{}{}\n", bin.view().message, bin.view().failure);
        const auto many = [&](const char* what) {
            perform(what, what);
            fmt::print("    {}{}\n", bin.view().message.substr(0, 60), bin.view().failure);
            bin.form().looked_for.clear();  // or its own undo is meant
            perform("undoing that", "undo");
            fmt::print("    {}{}\n", bin.view().message.substr(0, 60), bin.view().failure);
            perform("doing it again", "redo");
        };
        many("confirm ready");
        bin.form().looked_for = codes;
        perform("ticking them", "tick all");
        measure("handing them out", [&] { bin.outbox().post(bin_page::HandOut{"Heron"}); });
        fmt::print("    {}{}\n", bin.view().message, bin.view().failure);
        bin.form().looked_for.clear();
        perform("undoing that", "undo");
        perform("doing it again", "redo");
        perform("finding groups", "find groups");
        const auto rows = file_.parent_path() / "more.csv";
        std::ofstream out(rows);
        out << "code,sample_length,sample_weight\n";
        for (int at = 0; at < 10000; ++at) out << "Z" << at << ",24 in,22.4 gr\n";
        out.close();
        measure("taking in 10000 coils", [&] { screen_.receive({rows.string()}); });
        screen_.perform("Bin");
        perform("undoing that", "undo");
        fmt::print("    {}{}\n", bin.view().message, bin.view().failure);
    }

  private:
    app::Surroundings surroundings_ = app::real_surroundings("wait_speed");
    std::filesystem::path file_;
    CatalogueScreen screen_;
    Robot robot_;
};

}  // namespace

int main(int count, char** words) {
    if (count < 2) {
        fmt::print(stderr, "usage: wait_speed CATALOGUE [CODES]\n");
        return 2;
    }
    try {
        const TemporaryFolder folder;
        const auto file = folder / "copy.coilbook";
        std::filesystem::copy_file(words[1], file);
        Waits(file).all(count > 2 ? words[2] : "C1");
    } catch (const std::exception& error) {
        fmt::print(stderr, "wait_speed: {}\n", error.what());
        return 1;
    }
    return 0;
}
