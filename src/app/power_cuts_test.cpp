// The power fails, or the program is killed, at every moment of a day's work: an old catalogue is
// brought up to date, coils are added, read, confirmed, undone and handed out, tables come in,
// backups are made, and what another laptop did apart is merged. Everything that was said to be done is there, every file opens clean, and a
// backup is whole or not there at all.
#include <doctest/doctest.h>

#include <cstdlib>
#include <functional>
#include <map>
#include <memory>
#include <random>
#include <set>
#include <sstream>

#include "app/backups.h"
#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/import_table.h"
#include "app/merge.h"
#include "app/outfit.h"
#include "app/rigs.h"
#include "app/undo.h"
#include "db/digest.h"
#include "store/custody_repository.h"
#include "store/history_repository.h"
#include "store/kinds.h"
#include "support/recorded_names.h"
#include "support/recording_disk.h"
#include "support/trees.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;
namespace fs = std::filesystem;

namespace {

// The work ---------------------------------------------------------------------------------------

struct Clock {
    std::shared_ptr<Instant> now =
        std::make_shared<Instant>(instant_from_text("2026-06-01T12:00:00Z").value());

    [[nodiscard]] Surroundings surroundings() const {
        auto made = foretold_surroundings();
        made.now = [now = now] { return *now += std::chrono::seconds{1}; };
        return made;
    }
};

// One thing that a person does and is told is done. At most one act each.
struct Step {
    std::string name;
    std::function<void(Workshop&, Clock&)> does;
};

Coil coil(Workshop& workshop, std::string_view code) {
    return coil_by_code(workshop, code).value();
}
void reads(Workshop& workshop, std::string_view code, ReadingField field, const char* text) {
    REQUIRE(record_reading(workshop, coil(workshop, code), field, text).has_value());
}
void imports(Workshop& workshop, std::string_view kind, const std::string& text) {
    ImportRequest request;
    request.kind = *store::kind_named(kind);
    request.file = "table.csv";
    std::istringstream table(text);
    std::ostringstream none;
    const auto counts = import_table(workshop, request, table, none);
    REQUIRE(counts.has_value());
    REQUIRE(counts->added > 0);
}
void hands(Workshop& workshop, Whereabouts to, const char* boat, std::vector<std::string> codes) {
    REQUIRE(hand_over(
        workshop, {.to = to, .boat = boat, .client = "", .note = "", .codes = std::move(codes)}));
}

// A second laptop, which works apart from the first on a copy of its catalogue; its disk is not the
// one that fails.
class OtherLaptop {
  public:
    void takes_a_copy_of(Workshop& workshop) { REQUIRE(back_up(workshop, file())); }
    void does(const std::function<void(Workshop&)>& work) const {
        auto surroundings = foretold_surroundings();
        surroundings.random = [chance = chance_] {
            RandomBytes bytes{};
            for (auto& byte : bytes) byte = static_cast<std::uint8_t>((*chance)());
            return bytes;
        };
        surroundings.now = [] { return instant_from_text("2026-06-01T18:00:00Z").value(); };
        auto workshop = Workshop::open(file(), surroundings);
        work(workshop);
    }
    [[nodiscard]] fs::path file() const { return folder_ / "b.coilbook"; }

  private:
    TemporaryFolder folder_;
    std::shared_ptr<std::mt19937> chance_ = std::make_shared<std::mt19937>(2026);
};

std::vector<Step> steps() {
    using enum ReadingField;
    const auto other = std::make_shared<OtherLaptop>();
    return {
        {"add", [](auto& shop, auto&) { REQUIRE(add_coil(shop, "K1", "from the drift boat")); }},
        {"read", [](auto& shop, auto&) { reads(shop, "K1", sample_length, "24 in"); }},
        {"read", [](auto& shop, auto&) { reads(shop, "K1", sample_weight, "22.4 gr"); }},
        {"read", [](auto& shop, auto&) { reads(shop, "K1", diameters, "0.85 mm 0.86 mm"); }},
        {"correct", [](auto& shop, auto&) { reads(shop, "K1", sample_weight, "22.5 gr"); }},
        {"confirm",
         [](auto& shop, auto&) { REQUIRE(confirm_coil(shop, coil(shop, "K1"), "T-11")); }},
        {"a copy for the other laptop",
         [other](auto& shop, auto&) { other->takes_a_copy_of(shop); }},
        {"undo", [](auto& shop, auto&) { REQUIRE(undo(shop)); }},
        {"redo", [](auto& shop, auto&) { REQUIRE(redo(shop)); }},
        {"take back",
         [](auto& shop, auto&) { REQUIRE(take_confirmation_back(shop, coil(shop, "K1"))); }},
        {"notes",
         [](auto& shop, auto&) { REQUIRE(change_notes(shop, coil(shop, "K1"), "dry by now")); }},
        {"import coils",
         [](auto& shop, auto&) {
             std::string table = "code,notes\n";
             for (int n = 0; n < 40; ++n) table += "M" + std::to_string(n) + ",of the shop\n";
             imports(shop, "coils", table);
         }},
        {"import readings",
         [](auto& shop, auto&) {
             std::string table = "coil_code,field,as_written\n";
             for (int n = 0; n < 40; ++n) {
                 table +=
                     "M" + std::to_string(n) + ",sample_weight," + std::to_string(20 + n) + " gr\n";
             }
             imports(shop, "readings", table);
         }},
        {"undo the import", [](auto& shop, auto&) { REQUIRE(undo(shop)); }},
        {"backup by hand",
         [](auto& shop, auto&) {
             const auto made = back_up(shop);
             REQUIRE(made.has_value());
             REQUIRE(made->is_sound);
         }},
        {"boat", [](auto& shop, auto&) { REQUIRE(add_boat(shop, "Heron", 3, "")); }},
        {"client",
         [](auto& shop, auto&) {
             REQUIRE(add_client(shop, {"Ida Brandvik", {}, {}, ""}));
         }},
        {"rig",
         [](auto& shop, auto&) {
             REQUIRE(add_rig(shop, {"R1", "blue two-hander", LineSize{8}, "", "", "", "", ""}));
         }},
        {"string",
         [](auto& shop, auto&) {
             REQUIRE(string_rig(shop, rig_called(shop, "R1").value(), {"K1"}, RigRole::tip));
         }},
        {"hand out", [](auto& shop, auto&) { hands(shop, Whereabouts::boat, "Heron", {"R1"}); }},
        {"hand out",
         [](auto& shop, auto&) {
             hands(shop, Whereabouts::boat, "Heron", {"M1", "M2", "M3"});
         }},
        {"lost", [](auto& shop, auto&) { hands(shop, Whereabouts::lost, "", {"M2"}); }},
        {"hand back",
         [](auto& shop, auto&) {
             hands(shop, Whereabouts::bin, "", {"R1", "M1"});
         }},
        {"merge",
         [other](auto& shop, auto&) {
             other->does([](Workshop& boat) {
                 REQUIRE(add_coil(boat, "B1", "found on the gravel bar"));
                 reads(boat, "B1", sample_weight, "19.8 gr");
                 REQUIRE(change_notes(boat, coil(boat, "K1"), "was in the boat"));
             });
             const auto merged = merge(shop, other->file());
             REQUIRE(merged.has_value());
             REQUIRE(merged->came.size() == 3);
             REQUIRE(merged->conflicts > 0);
         }},
        {"merge again, to no effect",
         [other](auto& shop, auto&) {
             const auto merged = merge(shop, other->file());
             REQUIRE(merged.has_value());
             REQUIRE(merged->came.empty());
         }},
        {"a day later, with its backup",
         [](auto& shop, Clock& clock) {
             *clock.now += std::chrono::hours{24};
             REQUIRE(add_coil(shop, "K2"));
         }},
        {"forget", [](auto& shop, auto&) { REQUIRE(forget_client(shop, "Ida Brandvik")); }},
    };
}

// What stands
// --------------------------------------------------------------------------------------

// All that the catalogue holds and its history, as one fingerprint.
std::string content_of(const store::Catalogue& catalogue) {
    db::Digest digest;
    const auto say = [&](const db::Value& value) {
        if (const auto* integer = std::get_if<std::int64_t>(&value)) return digest.add(*integer);
        if (const auto* real = std::get_if<double>(&value)) return digest.add(*real);
        if (const auto* text = std::get_if<std::string>(&value)) return digest.add(*text);
        digest.add_null();
    };
    for (const auto& kind : store::all_kinds()) {
        digest.add(kind.name);
        catalogue.table_of(kind).each([&](const store::KindRow& row) {
            for (const auto& cell : row) say(cell);
        });
    }
    for (const auto& standing : catalogue.custody().standings()) {
        digest.add(standing.last.id.text());
    }
    for (const auto& entry : catalogue.history().list()) {
        digest.add(entry.note.id.text());
        digest.add(store::name_of(entry.state));
    }
    return digest.finish();
}

bool is_backup(const std::string& name) {
    return name.starts_with("backups/") && name.ends_with(".coilbook");
}

// What a person may count on after so many steps.
struct Standing {
    std::string content;
    std::set<std::string> backups;
};

struct Recording {
    std::string before;  // the old catalogue
    std::vector<DiskEvent> events;
    // After nothing, after it was opened and brought up to date, after one, two … steps.
    std::vector<Standing> standings;
};

// How the day goes; each of the controls breaks one rule.
struct Manners {
    bool never_syncs = false;
    bool speaks_too_soon = false;
};

fs::path fast_folder() {
    return fs::is_directory("/dev/shm") ? fs::path("/dev/shm") : fs::temp_directory_path();
}

Recording recorded_day(const Manners& manners) {
    const TemporaryFolder folder(fast_folder());
    const auto file = folder / "a.coilbook";
    fs::copy_file(source_tree() / "tests" / "data" / "version_1.coilbook", file);
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write);
    Recording recording{bytes_of(file), {}, {}};
    const Clock clock;
    RecordingDisk disk(folder.path(), manners.never_syncs);
    const auto note_standing = [&](Workshop& workshop) {
        Standing standing{content_of(workshop.catalogue()), {}};
        std::error_code none;
        for (const auto& entry : fs::directory_iterator(folder / "backups", none)) {
            const auto name = "backups/" + entry.path().filename().string();
            if (is_backup(name)) standing.backups.insert(name);
        }
        recording.standings.push_back(std::move(standing));
    };
    {
        if (manners.speaks_too_soon) disk.acknowledge();
        auto workshop = Workshop::open(file, clock.surroundings());
        recording.standings.push_back({content_of(workshop.catalogue()), {}});
        note_standing(workshop);
        if (!manners.speaks_too_soon) disk.acknowledge();
        auto ticking = clock;
        for (const auto& step : steps()) {
            INFO(step.name);
            if (manners.speaks_too_soon) disk.acknowledge();
            step.does(workshop, ticking);
            note_standing(workshop);
            if (!manners.speaks_too_soon) disk.acknowledge();
        }
    }
    recording.events = disk.events();
    return recording;
}

// Looking at what is left
// ---------------------------------------------------------------------------

struct Findings {
    int points = 0;
    int lost = 0;   // something that was said to be done is gone
    int wrong = 0;  // half of something, or a file that cannot be read or is not clean
    std::string first;
};

class Looker {
  public:
    explicit Looker(const Recording& recording) : standings_(recording.standings) {
        for (const auto& standing : standings_) contents_.insert(standing.content);
    }

    void look(const Disk& disk, std::size_t acknowledged, const std::string& when) {
        ++findings_.points;
        look_at_backups(disk, acknowledged, when);
        const auto known = opened_.find(fingerprint_of(disk));
        const auto& opened =
            known != opened_.end()
                ? known->second
                : opened_.emplace(fingerprint_of(disk), opened_from(disk)).first->second;
        if (!opened.wrong.empty()) wrong(when, opened.wrong);
        if (!opened.content.empty()) judge(opened.content, acknowledged, when);
    }
    [[nodiscard]] const Findings& findings() const { return findings_; }

  private:
    // What comes of opening the files that are left: the same for the same bytes.
    struct Opened {
        std::string content, wrong;
    };
    static std::string fingerprint_of(const Disk& disk) {
        db::Digest digest;
        for (const auto& [name, file] : disk) {
            if (is_backup(name) || !file.is_seen) continue;
            digest.add(std::string_view(name));
            digest.add(std::string_view(file.seen));
        }
        return digest.finish();
    }
    static Opened opened_from(const Disk& disk) {
        const TemporaryFolder folder(fast_folder());
        fs::create_directory(folder / "backups");
        for (const auto& [name, file] : disk) {
            if (file.is_seen) write_bytes(folder / name, file.seen);
        }
        Opened opened;
        try {
            const auto catalogue = store::Catalogue::open(folder / "a.coilbook");
            opened.content = content_of(catalogue);
            for (const auto& inspection : catalogue.audit()) {
                if (!inspection.wrong.empty()) opened.wrong = inspection.wrong.front();
            }
        } catch (const std::exception& error) {
            opened.wrong = error.what();
        }
        return opened;
    }

    void wrong(const std::string& when, const std::string& what) {
        ++findings_.wrong;
        if (findings_.first.empty()) findings_.first = when + ": " + what;
    }
    void lost(const std::string& when, const std::string& what) {
        ++findings_.lost;
        if (findings_.first.empty()) findings_.first = when + ": " + what;
    }

    void judge(const std::string& content, std::size_t acknowledged, const std::string& when) {
        if (content == standings_[acknowledged].content) return;
        if (acknowledged + 1 < standings_.size() &&
            content == standings_[acknowledged + 1].content) {
            return;
        }
        if (contents_.contains(content)) return lost(when, "what was said to be done is gone");
        wrong(when, "the catalogue holds what it never held");
    }

    void look_at_backups(const Disk& disk, std::size_t acknowledged, const std::string& when) {
        for (const auto& name : standings_[acknowledged].backups) {
            const auto found = disk.find(name);
            if (found == disk.end() || !found->second.is_seen) lost(when, name + " is gone");
        }
        for (const auto& [name, file] : disk) {
            if (!is_backup(name) || !file.is_seen) continue;
            auto known = sound_.find(file.seen);
            if (known == sound_.end()) known = sound_.emplace(file.seen, is_whole(file.seen)).first;
            if (!known->second) wrong(when, name + " is there and not whole");
        }
    }
    [[nodiscard]] bool is_whole(const std::string& backup) const {
        const TemporaryFolder folder(fast_folder());
        write_bytes(folder / "backup.coilbook", backup);
        try {
            // One of an older format is brought up to date for that.
            const auto catalogue = store::Catalogue::open(folder / "backup.coilbook");
            return contents_.contains(content_of(catalogue));
        } catch (const Error&) {
            return false;
        }
    }

    const std::vector<Standing>& standings_;
    std::set<std::string> contents_;
    std::map<std::string, Opened> opened_;  // by fingerprint
    std::map<std::string, bool> sound_;     // backups, by their bytes
    Findings findings_;
};

// Pulls the plug at `points` moments or a little more, spread evenly; every moment is taken once
// where there are as many: killed, with nothing kept that was not synced, or with some of it.
Findings pull_the_plug(const Recording& recording, std::size_t points) {
    Looker looker(recording);
    Disk disk;
    disk["a.coilbook"] = {.is_seen = true,
                          .is_sure = true,
                          .seen = recording.before,
                          .sure = recording.before,
                          .newcomer = {}};
    // Another number of points draws other sectors.
    std::mt19937 random(static_cast<unsigned>(points));
    std::size_t acknowledged = 0;
    std::size_t at = 0;
    double owed = 0.0;
    for (const auto& event : recording.events) {
        happen(disk, event);
        if (event.kind == DiskEvent::Kind::acknowledge) ++acknowledged;
        ++at;
        owed += static_cast<double>(points) / static_cast<double>(recording.events.size());
        for (; owed >= 1.0; owed -= 1.0) {
            const auto when =
                "event " + std::to_string(at) + ", step " + std::to_string(acknowledged);
            switch (looker.findings().points % 3) {
                case 0:
                    looker.look(after_power_cut(disk, random), acknowledged, when);
                    break;
                case 1:
                    looker.look(left_by(disk, false), acknowledged, when);
                    break;
                default:
                    looker.look(left_by(disk, true), acknowledged, when);
            }
        }
    }
    return looker.findings();
}

// COILBOOK_POWER_CUTS=12000 for a long run.
std::size_t wanted_points() {
    const char* wanted = std::getenv("COILBOOK_POWER_CUTS");
    return wanted ? static_cast<std::size_t>(std::atoi(wanted)) : 60;
}

}  // namespace

TEST_SUITE("When the power fails in the middle of a day's work") {
    TEST_CASE("nothing that was said to be done is lost, and every file opens clean") {
        const auto day = recorded_day({});
        const auto findings = pull_the_plug(day, wanted_points());
        INFO(findings.first);
        CHECK(findings.points >= static_cast<int>(wanted_points()) - 1);
        CHECK(findings.lost == 0);
        CHECK(findings.wrong == 0);
        MESSAGE(findings.points << " crash points at " << day.events.size() << " moments: "
                                << findings.lost << " lost, " << findings.wrong << " wrong");
    }

    TEST_CASE("controls: the test finds out a disk that never syncs, and words spoken too soon") {
        const auto unsynced = pull_the_plug(recorded_day({.never_syncs = true}), 30);
        CHECK(unsynced.lost + unsynced.wrong > 10);
        CHECK(unsynced.lost > 0);
        const auto too_soon = pull_the_plug(recorded_day({.speaks_too_soon = true}), 30);
        CHECK(too_soon.lost > 0);
        CHECK(too_soon.wrong == 0);
    }
}
