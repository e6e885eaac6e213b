// What is left when the power fails, at every moment of some work: everything that was said to be
// saved, and nothing by halves. The control runs break one rule each, and must be found out: a test
// that no mistake can fail would prove nothing.

#include "db/connection.h"
#include "support/database.h"
#include "support/recording_disk.h"

using namespace coilbook;
using namespace coilbook::db;
namespace fs = std::filesystem;

namespace {

constexpr int transactions = 8;

// How the work is done; each of the controls breaks one rule.
struct Manners {
    const char* synchronous = nullptr;  // nothing: as Database sets it
    bool speaks_too_soon = false;       // says "saved" before it is
    bool splits_the_act = false;        // one act in two transactions
};

struct Findings {
    int states = 0;
    int lost = 0;     // something that was said to be saved is gone
    int damaged = 0;  // half an act, or a file that cannot be read
};

constexpr auto one_thing = "INSERT INTO thing SELECT count(*) + 1 FROM thing";
// Long enough to fill a page now and then, so that the log is written back in between.
constexpr auto one_part =
    "INSERT INTO part SELECT count(*) + 1, hex(zeroblob(700)) FROM part;"
    "UPDATE total SET things = things + 1";

void work(Database& shelf, RecordingDisk& disk, const Manners& manners) {
    shelf.connection()->command("PRAGMA wal_autocheckpoint = 12");
    if (manners.synchronous) {
        shelf.connection()->command(
            (std::string("PRAGMA synchronous = ") + manners.synchronous).c_str());
    }
    for (int n = 0; n < transactions; ++n) {
        if (manners.speaks_too_soon) disk.acknowledge();
        if (manners.splits_the_act) {
            run_script(shelf, one_thing);
            run_script(shelf, one_part);
        } else {
            Transaction transaction(shelf);
            transaction.run_script(one_thing);
            transaction.run_script(one_part);
            transaction.commit();
        }
        if (!manners.speaks_too_soon) disk.acknowledge();
    }
}

// Opens what is left as a person would after the lights are on again, and counts what is missing.
void look(const fs::path& folder, const Disk& disk, int acknowledged, Findings& findings) {
    for (const auto& [name, file] : disk) {
        fs::remove(folder / name);
        if (file.is_seen) write_bytes(folder / name, file.seen);
    }
    fs::remove(folder / "a.shelf-shm");
    ++findings.states;
    const auto said = error_of([&] {
        const auto shelf = Database::open(folder / "a.shelf", shelf_kind());
        const auto things = number(shelf, "SELECT count(*) AS n FROM thing");
        const bool whole = things == number(shelf, "SELECT count(*) AS n FROM part") &&
                           things == number(shelf, "SELECT things AS n FROM total") &&
                           shelf.damage().empty();
        if (!whole) ++findings.damaged;
        if (things < acknowledged) ++findings.lost;
    });
    if (!said.empty()) ++findings.damaged;
}

// In memory, where there is such a place: more than a thousand pictures are written and opened.
fs::path fast_folder() {
    return fs::is_directory("/dev/shm") ? fs::path("/dev/shm") : fs::temp_directory_path();
}

Findings pull_the_plug_everywhere(const Manners& manners) {
    const TemporaryFolder folder(fast_folder());
    const TemporaryFolder pictures(fast_folder());
    {
        auto shelf = Database::create(folder / "a.shelf", shelf_kind());
        run_script(shelf,
                   "CREATE TABLE thing (n INTEGER NOT NULL) STRICT;"
                   "CREATE TABLE part (n INTEGER NOT NULL, filling TEXT NOT NULL) STRICT;"
                   "CREATE TABLE total (things INTEGER NOT NULL) STRICT;"
                   "INSERT INTO total VALUES (0)");
    }
    const auto before = bytes_of(folder / "a.shelf");
    Disk disk{{"a.shelf", {.is_seen = true, .is_sure = true, .seen = before, .sure = before}}};
    std::vector<DiskEvent> events;
    {
        RecordingDisk recording;
        {
            auto shelf = Database::open(folder / "a.shelf", shelf_kind());
            work(shelf, recording, manners);
        }
        events = recording.events();
    }
    Findings findings;
    std::mt19937 random(1);  // the same run every time
    int acknowledged = 0;
    for (const auto& event : events) {
        happen(disk, event);
        if (event.kind == DiskEvent::Kind::acknowledge) ++acknowledged;
        look(pictures.path(), disk, acknowledged, findings);  // the program was killed
        Disk surely, perhaps;
        for (const auto& [name, file] : disk) {
            surely[name] = {.is_seen = file.is_sure, .is_sure = {}, .seen = file.sure, .sure = {}};
            perhaps[name] = after_power_cut(file, random);
        }
        look(pictures.path(), surely, acknowledged, findings);
        look(pictures.path(), perhaps, acknowledged, findings);
    }
    return findings;
}

}  // namespace

TEST_SUITE("When the power fails") {
    TEST_CASE("nothing that was saved is lost, and nothing is half-written") {
        const auto findings = pull_the_plug_everywhere({});
        CHECK(findings.states > 300);
        CHECK(findings.lost == 0);
        CHECK(findings.damaged == 0);
    }

    TEST_CASE("controls: the test finds out each broken rule") {
        const auto normal = pull_the_plug_everywhere({.synchronous = "NORMAL"});
        CHECK(normal.lost > 0);
        CHECK(normal.damaged == 0);
        const auto off = pull_the_plug_everywhere({.synchronous = "OFF"});
        CHECK(off.lost > 0);
        CHECK(off.damaged > 0);
        CHECK(pull_the_plug_everywhere({.speaks_too_soon = true}).lost > 0);
        CHECK(pull_the_plug_everywhere({.splits_the_act = true}).damaged > 0);
    }
}
