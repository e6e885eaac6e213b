// The window is killed while somebody works at the bench: what the page had said to be saved is
// there when the catalogue is opened again.
#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <random>
#include <thread>

#include "app/coil_changes.h"
#include "app/coil_sheet.h"
#include "bench/pages/bench/bench_desk.h"
#include "support/temporary_folder.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::bench_page;
namespace fs = std::filesystem;

namespace {

// The work that is killed: step by step a new coil, then its weight, then the next coil.
std::string code_of(int step) {
    return "K" + std::to_string(step / 2);
}

bool work_step(Desk& desk, int step) {
    if (step % 2 == 0) {
        desk.outbox().post(MakeCoil{code_of(step)});
    } else {
        desk.form().typed.text(ReadingField::sample_weight) = "22.4";
        enter_reading(desk.view(), desk.form(), ReadingField::sample_weight, desk.outbox());
    }
    desk.act();
    return desk.view().failure.empty();
}

// Works until killed; says each step that the page showed as saved with one byte.
[[noreturn]] void work_until_killed(const fs::path& file, int said, int step) {
    try {
        auto workshop = app::Workshop::open(file, app::real_surroundings("test"));
        SharedBin shared(workshop);
        Desk desk(shared);
        if (step % 2 == 1) {  // the coil is there, its weight not yet
            desk.outbox().post(EnterCode{code_of(step)});
            desk.act();
        }
        for (;; ++step) {
            if (!work_step(desk, step) || ::write(said, "x", 1) != 1) ::_exit(1);
        }
    } catch (...) {
        ::_exit(2);
    }
}

int count_of(int pipe) {
    int count = 0;
    std::array<char, 4096> bytes{};
    for (;;) {
        const auto read = ::read(pipe, bytes.data(), bytes.size());
        if (read <= 0) return count;
        count += static_cast<int>(read);
    }
}

// How many steps the catalogue holds; none is missing between them.
int steps_in(const fs::path& file) {
    auto workshop = app::Workshop::open(file, app::real_surroundings("test"));
    int steps = 0;
    for (;; ++steps) {
        const auto coil = app::coil_by_code(workshop, code_of(steps));
        if (!coil) break;
        if (steps % 2 == 1 && app::current_readings(workshop, *coil).empty()) break;
    }
    for (const auto& inspection : workshop.catalogue().audit()) {
        CAPTURE(inspection.what);
        REQUIRE(inspection.wrong.empty());
    }
    return steps;
}

}  // namespace

TEST_SUITE("When the window is killed") {
    // COILBOOK_KILLS=500 for a long run; each begins with a new catalogue after twenty.
    TEST_CASE("every coil and reading that the page showed as saved is there") {
        const char* wanted = std::getenv("COILBOOK_KILLS");
        const int kills = wanted ? std::atoi(wanted) : 10;
        std::mt19937 random(1);
        int total = 0;
        for (int n = 0; n < kills;) {
            const TemporaryFolder folder;
            const auto file = folder / "a.coilbook";
            { const auto made = app::Workshop::create(file, app::real_surroundings("test")); }
            int done = 0;
            for (const int end = std::min(kills, n + 20); n < end; ++n) {
                std::array<int, 2> pipe{};
                REQUIRE(::pipe(pipe.data()) == 0);
                const pid_t child = ::fork();
                REQUIRE(child >= 0);
                if (child == 0) {
                    ::close(pipe[0]);
                    work_until_killed(file, pipe[1], done);
                }
                ::close(pipe[1]);
                int said = 0;
                char word = ' ';
                if (random() % 4 != 0) said += ::read(pipe[0], &word, 1) == 1 ? 1 : 0;
                std::this_thread::sleep_for(std::chrono::microseconds(random() % 60'000));
                ::kill(child, SIGKILL);
                int status = 0;
                ::waitpid(child, &status, 0);
                CHECK(WIFSIGNALED(status));  // it did not stop by itself
                said += count_of(pipe[0]);
                ::close(pipe[0]);
                const int found = steps_in(file);
                CAPTURE(n);
                REQUIRE(found >= done + said);
                REQUIRE(found <= done + said + 1);
                done = found;
                total += said;
            }
        }
        CHECK(total > 0);
        MESSAGE(kills << " kills, " << total << " steps shown as saved");
    }
}
