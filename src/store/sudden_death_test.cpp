// A program that is killed, or a power cut, in the middle of acts, undos and backups: everything
// that was said to be done is there, and nothing by halves.

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <random>
#include <set>
#include <thread>

#include "store/coil_repository.h"
#include "store/history_repository.h"
#include "store/reading_repository.h"
#include "store/undoing.h"
#include "support/catalogue.h"
#include "support/recording_disk.h"

using namespace coilbook;
using namespace coilbook::store;
namespace fs = std::filesystem;

namespace {

// The work of the program that will be killed: its n-th act adds the coil Kn, but every fifth
// takes the last standing one back.
bool takes_back(int n) {
    return n % 5 == 4;
}
std::string code_of(int n) {
    return "K" + std::to_string(n);
}
std::set<std::string> codes_after(int acts) {
    std::vector<std::string> codes;
    for (int n = 0; n < acts; ++n) {
        if (takes_back(n)) {
            codes.pop_back();
        } else {
            codes.push_back(code_of(n));
        }
    }
    return {codes.begin(), codes.end()};
}

// Ids of this process and of this call.
template <class Thing>
Id<Thing> own_id(int n) {
    RandomBytes bytes{};
    for (std::size_t at = 0; at < 4; ++at) bytes[at] = static_cast<std::uint8_t>(n >> (8 * at));
    return Id<Thing>::make(moment(), bytes);
}

// Acts until killed; says each act that is done with one byte.
[[noreturn]] void work_until_killed(const fs::path& file, int said, int first) {
    try {
        auto catalogue = Catalogue::open(file);
        for (int n = first;; ++n) {
            auto note = note_for("act " + std::to_string(n));
            note.id = own_id<Act>(n);
            const auto done = catalogue.act(note, [&](Act& act) -> Result<void> {
                if (!takes_back(n)) {
                    auto coil = a_coil(code_of(n));
                    coil.id = own_id<Coil>(n);
                    return catalogue.coils().add(act, coil);
                }
                return catalogue.undoing().undo(act, catalogue.undoing().next_undo()->note.id);
            });
            if (!done || ::write(said, "x", 1) != 1) ::_exit(1);
            if (n % 7 == 6) catalogue.back_up(file.string() + ".copy");
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

std::set<std::string> codes_in(Catalogue& catalogue) {
    std::set<std::string> codes;
    for (const auto& listing : catalogue.coils().list()) codes.insert(listing.coil.code);
    return codes;
}

}  // namespace

TEST_SUITE("When the program is killed") {
    // COILBOOK_KILLS=500 for a long run.
    TEST_CASE("nothing that was said to be done is lost, and nothing is half-done") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        { const auto made = Catalogue::create(file); }
        const char* wanted = std::getenv("COILBOOK_KILLS");
        const int kills = wanted ? std::atoi(wanted) : 20;
        std::mt19937 random(1);
        int acts = 0;  // that the catalogue has
        int total = 0;
        for (int n = 0; n < kills; ++n) {
            std::array<int, 2> pipe{};
            REQUIRE(::pipe(pipe.data()) == 0);
            const pid_t child = ::fork();
            REQUIRE(child >= 0);
            if (child == 0) {
                ::close(pipe[0]);
                work_until_killed(file, pipe[1], acts);
            }
            ::close(pipe[1]);
            // Mostly some time after its first act, now and then perhaps before it, while it opens.
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

            auto catalogue = Catalogue::open(file);
            const int found = static_cast<int>(catalogue.history().list().size());
            CAPTURE(n);
            REQUIRE(found >= acts + said);
            REQUIRE(found <= acts + said + 1);
            REQUIRE(codes_in(catalogue) == codes_after(found));
            if (fs::exists(file.string() + ".copy")) {
                auto copy = Catalogue::open(file.string() + ".copy");
                REQUIRE(codes_in(copy) ==
                        codes_after(static_cast<int>(copy.history().list().size())));
            }
            acts = found;
            total += said;
        }
        CHECK(total > kills);
        const auto catalogue = Catalogue::open(file);
        for (const auto& inspection : catalogue.audit()) CHECK(inspection.wrong.empty());
        MESSAGE(kills << " kills, " << total << " acts said to be done");
    }
}

namespace {

struct Findings {
    int states = 0;
    int lost = 0;
    int wrong = 0;
};

// What stands after each number of acts of the work below: coils, and the weight of the coil.
const std::array<std::pair<int, std::string>, 7> stages{
    {{0, ""}, {1, ""}, {1, "22.4 gr"}, {1, ""}, {1, "22.4 gr"}, {1, ""}, {0, ""}}};

void work(Catalogue& catalogue, RecordingDisk& disk) {
    const auto coil = a_coil("A7");
    const auto added = note_for("add");
    const auto weighed = note_for("weigh");
    const auto done = [&](const ActNote& note, auto write) {
        REQUIRE(catalogue.act(note, write).has_value());
        disk.acknowledge();
    };
    const Reading reading{
        .id = next_id<Reading>(),
        .coil = coil.id,
        .field = ReadingField::sample_weight,
        .as_written = "22.4 gr",
        .value = read_values(ReadingField::sample_weight, "22.4 gr").value().front(),
        .instrument = "",
        .taken_at = moment(5),
        .supersedes = {}};
    auto& undoing = catalogue.undoing();
    done(added, [&](Act& act) { return catalogue.coils().add(act, coil); });
    done(weighed, [&](Act& act) { return catalogue.readings().add(act, reading); });
    done(note_for("undo"), [&](Act& act) { return undoing.undo(act, weighed.id); });
    done(note_for("redo"), [&](Act& act) { return undoing.redo(act, weighed.id); });
    done(note_for("undo"), [&](Act& act) { return undoing.undo(act, weighed.id); });
    done(note_for("undo"), [&](Act& act) { return undoing.undo(act, added.id); });
}

void look(const fs::path& folder, const Disk& disk, std::size_t acknowledged, Findings& findings) {
    for (const auto& [name, file] : disk) {
        fs::remove(folder / name);
        if (file.is_seen) write_bytes(folder / name, file.seen);
    }
    fs::remove(folder / "a.coilbook-shm");
    ++findings.states;
    const auto said = error_of([&] {
        auto catalogue = Catalogue::open(folder / "a.coilbook");
        const auto acts = catalogue.history().list().size();
        if (acts < acknowledged) ++findings.lost;
        std::pair<int, std::string> found{catalogue.coils().count(), ""};
        for (const auto& entry : catalogue.readings().bin()) {
            if (entry.readings.sample_weight) found.second = "22.4 gr";
        }
        if (acts >= stages.size() || found != stages[acts]) ++findings.wrong;
    });
    if (!said.empty()) ++findings.wrong;
}

}  // namespace

TEST_SUITE("When the power fails during an undo") {
    TEST_CASE("what was said to be done is there, and no undo is half-done") {
        const fs::path parent =
            fs::is_directory("/dev/shm") ? fs::path("/dev/shm") : fs::temp_directory_path();
        const TemporaryFolder folder(parent);
        const TemporaryFolder pictures(parent);
        { const auto made = Catalogue::create(folder / "a.coilbook"); }
        const auto before = bytes_of(folder / "a.coilbook");
        Disk disk{
            {"a.coilbook", {.is_seen = true, .is_sure = true, .seen = before, .sure = before}}};
        std::vector<DiskEvent> events;
        {
            RecordingDisk recording;
            {
                auto catalogue = Catalogue::open(folder / "a.coilbook");
                work(catalogue, recording);
            }
            events = recording.events();
        }
        Findings findings;
        std::mt19937 random(1);
        std::size_t acknowledged = 0;
        for (const auto& event : events) {
            happen(disk, event);
            if (event.kind == DiskEvent::Kind::acknowledge) ++acknowledged;
            // After each sync and each word, and now and then in between.
            if (event.kind == DiskEvent::Kind::write && random() % 4 != 0) continue;
            Disk surely, perhaps;
            for (const auto& [name, file] : disk) {
                surely[name] = {
                    .is_seen = file.is_sure, .is_sure = {}, .seen = file.sure, .sure = {}};
                perhaps[name] = after_power_cut(file, random);
            }
            look(pictures.path(), surely, acknowledged, findings);
            look(pictures.path(), perhaps, acknowledged, findings);
        }
        CHECK(findings.states > 60);
        CHECK(findings.lost == 0);
        CHECK(findings.wrong == 0);
    }
}
