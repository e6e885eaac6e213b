// Backups, restoring, checking and salvaging, as the doors call them.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <memory>
#include <sstream>

#include "app/backups.h"
#include "app/built_in_library.h"
#include "app/check_catalogue.h"
#include "app/coil_care.h"
#include "app/coil_changes.h"
#include "app/coil_sheet.h"
#include "app/custody.h"
#include "app/early_care.h"
#include "app/export_table.h"
#include "app/history_rows.h"
#include "app/merge.h"
#include "app/prune.h"
#include "app/restore.h"
#include "app/salvage.h"
#include "app/undo.h"
#include "base/error.h"
#include "store/care_repository.h"
#include "store/class_repository.h"
#include "store/coil_repository.h"
#include "store/reading_repository.h"
#include "support/a_photograph.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;
namespace fs = std::filesystem;

namespace {

// Surroundings whose clock stands at noon of a day until it is set to another.
struct Days {
    std::shared_ptr<Instant> now = std::make_shared<Instant>(noon("2026-01-01"));
    std::shared_ptr<std::vector<std::string>> warnings =
        std::make_shared<std::vector<std::string>>();

    static Instant noon(const std::string& day) {
        return instant_from_text(day + "T12:00:00Z").value();
    }
    void set(const std::string& day) const { *now = noon(day); }
    [[nodiscard]] Surroundings surroundings() const {
        auto made = foretold_surroundings();
        made.now = [now = now] { return *now += std::chrono::milliseconds{1}; };
        made.warn = [warnings = warnings](const std::string& text) { warnings->push_back(text); };
        return made;
    }
};

std::vector<std::string> names_in(const fs::path& folder) {
    std::vector<std::string> names;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        names.push_back(entry.path().filename().string());
    }
    std::ranges::sort(names);
    return names;
}

int coils_in(const fs::path& file) {
    return Workshop::open(file, foretold_surroundings()).catalogue().coils().count();
}

const auto yes = [](const RestorePlan&) { return true; };

}  // namespace

TEST_SUITE("Pruning") {
    TEST_CASE("what was retired or undone long ago goes for good, after a backup; the rest stays") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        const Days days;
        auto shop = Workshop::create(file, days.surroundings());
        const auto add = [&](const char* code) {
            return add_coil(shop, code, "secretive").value();
        };
        const auto sold = add("K1");
        add("K2");
        REQUIRE(record_reading(shop, sold, ReadingField::sample_weight, "22.4 gr").has_value());
        REQUIRE(confirm_coil(shop, sold, "T-11").has_value());
        const auto lost = add("K3");
        REQUIRE(hand_over(
            shop,
            {.to = Whereabouts::lost, .boat = "", .client = "", .note = "", .codes = {"K3"}}));
        add("K4");
        REQUIRE(undo(shop).has_value());
        const auto retire = [&](Coil coil) {
            coil.is_retired = true;
            REQUIRE(shop.catalogue()
                        .act(shop.note("retire"),
                             [&](store::Act& act) {
                                 return shop.catalogue().coils().change(act, coil);
                             })
                        .has_value());
        };
        retire(sold);
        retire(lost);
        days.set("2026-03-01");
        const auto young = add("K5");
        retire(young);
        store::Prunable seen;
        const auto looks = [&](bool answer) {
            return [&seen, answer](const store::Prunable& what) {
                seen = what;
                return answer;
            };
        };
        const auto before = Days::noon("2026-02-01");
        CHECK_FALSE(prune(shop, before, looks(false)).has_value());
        // K3 was handed out, and is part of the season's record; K5 is too young.
        CHECK(seen.coils == std::vector<std::string>{"K1", "K4"});
        CHECK(seen.confirmed == 1);
        CHECK(shop.catalogue().readings().all_of(sold.id).size() == 1);

        const auto copy = folder / "copy.coilbook";
        REQUIRE(back_up(shop, copy));
        const auto pruned = prune(shop, before, looks(true));
        REQUIRE(pruned.has_value());
        REQUIRE(pruned->backup.has_value());
        CHECK(coils_in(*pruned->backup) == coils_in(copy));
        CHECK(shop.catalogue().readings().all_of(sold.id).empty());
        CHECK_FALSE(shop.catalogue().coils().by_id(sold.id).has_value());
        CHECK(shop.catalogue().coils().by_id(lost.id).has_value());
        CHECK(shop.catalogue().coils().by_id(young.id).has_value());
        for (const auto& inspection : shop.catalogue().audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
        CHECK(history(shop).front().note.what == "prune");
        // Neither the pruning nor what lost something is undone any more.
        CHECK_FALSE(undo(shop).has_value());
        // There is nothing more to delete, and nobody is asked.
        CHECK(prune(shop, before, looks(false))->what.is_empty());

        // A copy of before would bring half of it back; one of afterwards is merged as ever.
        auto other = Workshop::open(copy, days.surroundings());
        CHECK(mentions(to_line(merge(other, file).error()), "was pruned on 2026-03-01"));
        CHECK(mentions(to_line(merge(shop, copy).error()), "was pruned on 2026-03-01"));
        const auto after = folder / "after.coilbook";
        REQUIRE(back_up(shop, after));
        CHECK(merge(shop, after)->came.empty());
    }

    TEST_CASE("a tampered act is found though something of it was pruned") {
        const TemporaryFolder folder;
        const auto file = folder / "a.coilbook";
        const Days days;
        {
            auto shop = Workshop::create(file, days.surroundings());
            REQUIRE(add_coil(shop, "K1"));
            REQUIRE(undo(shop).has_value());
            days.set("2026-03-01");
            REQUIRE(prune(shop, Days::noon("2026-02-01"), [](const auto&) { return true; }));
        }
        // The act's words, as they stand in the file.
        auto bytes = bytes_of(file);
        const auto at = bytes.find("add coil K1");
        REQUIRE(at != std::string::npos);
        bytes.replace(at, 11, "add coil K9");
        write_bytes(file, bytes);
        std::ostringstream found;
        CHECK_FALSE(check_catalogue(file, found, Format::csv));
        CHECK(mentions(found.str(), "is not what it was when it was sealed"));
    }

    TEST_CASE("a picture that no photograph shows any more is deleted, one that does is kept") {
        const TemporaryFolder folder;
        const Days days;
        auto shop = Workshop::in_memory(days.surroundings());
        const auto coil = add_coil(shop, "K1").value();
        const auto photograph = [&](int width) {
            write_bytes(folder / "p.png", a_png(width, 2));
            return add_photograph(shop, coil, folder / "p.png", "").value();
        };
        const auto shown = photograph(3);
        const auto hidden = photograph(4);
        REQUIRE(put_photograph_away(shop, coil, hidden.id).has_value());
        days.set("2026-03-01");
        const auto pruned = prune(shop, Days::noon("2026-02-01"), [](const auto&) { return true; });
        REQUIRE(pruned.has_value());
        CHECK(pruned->what.pictures == std::vector<std::string>{hidden.sha256});
        CHECK(shop.catalogue().care().bytes_of(shown) == a_png(3, 2));
        CHECK_THROWS_AS(shop.catalogue().care().bytes_of(hidden), Error);
        for (const auto& inspection : shop.catalogue().audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
    }
}

TEST_SUITE("Backups") {
    TEST_CASE("before the first change of a day, and only then, the catalogue copies itself") {
        const TemporaryFolder folder;
        const Days days;
        auto workshop = Workshop::create(folder / "a.coilbook", days.surroundings());
        CHECK(names_in(folder / "backups").empty());
        (void)add_coil(workshop, "A1").value();
        (void)add_coil(workshop, "A2").value();
        CHECK(names_in(folder / "backups") == std::vector<std::string>{"a.2026-01-01.coilbook"});
        CHECK(coils_in(folder / "backups" / "a.2026-01-01.coilbook") == 0);
        days.set("2026-01-02");
        CHECK(history(workshop).size() == 3);  // looking makes no copy
        CHECK(names_in(folder / "backups").size() == 1);
        (void)add_coil(workshop, "A3").value();
        CHECK(coils_in(folder / "backups" / "a.2026-01-02.coilbook") == 2);
        CHECK(fs::status(folder / "backups" / "a.2026-01-02.coilbook").permissions() ==
              (fs::perms::owner_read | fs::perms::owner_write));
    }

    TEST_CASE("old ones are thinned out, other files in the folder stay") {
        const TemporaryFolder folder;
        const Days days;
        auto workshop = Workshop::create(folder / "a.coilbook", days.surroundings());
        for (int n = 10; n < 30; ++n) {
            days.set("2026-01-" + std::to_string(n));
            (void)add_coil(workshop, "A" + std::to_string(n)).value();
            if (n == 10) write_bytes(folder / "backups" / "mine.coilbook", "");
        }
        // Seven days, and the Sundays 11 and 18 January; the month's last is the 29th.
        CHECK(names_in(folder / "backups") ==
              std::vector<std::string>{"a.2026-01-11.coilbook", "a.2026-01-18.coilbook",
                                       "a.2026-01-23.coilbook", "a.2026-01-24.coilbook",
                                       "a.2026-01-25.coilbook", "a.2026-01-26.coilbook",
                                       "a.2026-01-27.coilbook", "a.2026-01-28.coilbook",
                                       "a.2026-01-29.coilbook", "mine.coilbook"});
    }

    TEST_CASE("where no copy can be made the work goes on, and the person is told once") {
        const TemporaryFolder folder;
        const Days days;
        auto workshop = Workshop::create(folder / "a.coilbook", days.surroundings());
        write_bytes(folder / "backups", "in the way");
        (void)add_coil(workshop, "A1").value();
        (void)add_coil(workshop, "A2").value();
        REQUIRE(days.warnings->size() == 1);
        says(days.warnings->front(), "today's backup was not made");
    }

    TEST_CASE(
        "what comes before the day's first change may be begun early: then it is waited for") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        auto workshop = Workshop::create(file, days.surroundings());
        (void)add_coil(workshop, "A1").value();
        days.set("2026-01-02");
        {
            const EarlyCare care(file, days.surroundings());
            int waits = 0;
            workshop.wait_before_first_change([&] {
                ++waits;
                care.wait(workshop.progress());
            });
            (void)add_coil(workshop, "A2").value();
            (void)add_coil(workshop, "A3").value();
            CHECK(waits == 1);
        }
        const auto backups = folder / "backups";
        CHECK(names_in(backups) ==
              std::vector<std::string>{"a.2026-01-01.coilbook", "a.2026-01-02.coilbook"});
        CHECK(coils_in(backups / "a.2026-01-02.coilbook") == 1);
        CHECK(days.warnings->empty());
        // Waiting is broken off, and what it waited for goes on or ends by itself.
        days.set("2026-01-03");
        const EarlyCare care(file, days.surroundings());
        workshop.wait_before_first_change([] { throw BrokenOff{}; });
        CHECK_THROWS_AS((void)add_coil(workshop, "A4"), BrokenOff);
        CHECK(workshop.catalogue().coils().count() == 3);
    }

    TEST_CASE("one that is asked for has its own name, and replaces nothing") {
        const TemporaryFolder folder;
        const Days days;
        auto workshop = Workshop::create(folder / "a.coilbook", days.surroundings());
        const auto made = back_up(workshop).value().file;
        CHECK(made.parent_path() == folder / "backups");
        CHECK(made.filename().string().starts_with("a.2026-01-01-1200"));
        write_bytes(folder / "b.coilbook", "");
        says(back_up(workshop, folder / "b.coilbook").error().sentence, "exists already");
        says(back_up(workshop, workshop.catalogue().file()).error().sentence, "exists already");
        CHECK(back_up(workshop, folder / "c.coilbook").value().file == folder / "c.coilbook");
        CHECK(coils_in(folder / "c.coilbook") == 0);
    }
}

TEST_SUITE("Copies that were cut short") {
    TEST_CASE("what one left behind is gone with the next backup, and nobody else's file") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        auto workshop = Workshop::create(file, days.surroundings());
        (void)add_coil(workshop, "A1").value();
        const auto whole = bytes_of(back_up(workshop, folder / "b.coilbook").value().file);
        const auto left = [&](const char* name, const std::string& bytes, fs::perms perms) {
            write_bytes(folder / name, bytes);
            fs::permissions(folder / name, perms);
        };
        const auto owners = fs::perms::owner_read | fs::perms::owner_write;
        left("cut.coilbook.tmp", whole.substr(0, whole.size() / 2), owners);
        left("cut.coilbook.tmp-journal", "x", owners);
        left("begun.coilbook.tmp", "", owners);
        left("open.coilbook.tmp", whole, owners | fs::perms::others_read);
        left("words.coilbook.tmp", "something else", owners);
        left("cut.tmp", whole, owners);
        left("held.coilbook.tmp", whole, owners);
        const int held = ::open((folder / "held.coilbook.tmp").c_str(), O_RDONLY | O_CLOEXEC);
        REQUIRE(::flock(held, LOCK_EX | LOCK_NB) == 0);
        CHECK(back_up(workshop, folder / "c.coilbook").has_value());
        ::close(held);
        auto names = names_in(folder.path());
        std::erase_if(names, [](const auto& name) { return name.find(".tmp") == name.npos; });
        CHECK(names == std::vector<std::string>{"cut.tmp", "held.coilbook.tmp", "open.coilbook.tmp",
                                                "words.coilbook.tmp"});
    }

    TEST_CASE("an export that finds no more room leaves no file, and the next one can be made") {
        const TemporaryFolder folder;
        const Days days;
        auto workshop = Workshop::create(folder / "a.coilbook", days.surroundings());
        const auto& kind = *store::kind_named("classes").value();
        const auto file = folder / "classes.csv";
        rlimit before{};
        REQUIRE(::getrlimit(RLIMIT_FSIZE, &before) == 0);
        auto* const at_signal = std::signal(SIGXFSZ, SIG_IGN);  // an error is told instead
        const rlimit small{4096, before.rlim_max};
        REQUIRE(::setrlimit(RLIMIT_FSIZE, &small) == 0);
        const auto said = error_of([&] { (void)export_to_file(workshop, kind, file); });
        (void)::setrlimit(RLIMIT_FSIZE, &before);
        (void)std::signal(SIGXFSZ, at_signal);
        says(said, "classes.csv' cannot be written whole; nothing of it was kept");
        CHECK_FALSE(fs::exists(file));
        CHECK(export_to_file(workshop, kind, file).has_value());
        CHECK(bytes_of(file).size() > 4096);
    }
}

TEST_SUITE("Restoring") {
    TEST_CASE("the plan says what would be lost; a no changes nothing, a yes keeps the replaced") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        auto workshop = Workshop::create(file, days.surroundings());
        (void)add_coil(workshop, "A1").value();
        const auto backup = back_up(workshop, folder / "b.coilbook").value().file;
        const auto backup_bytes = bytes_of(backup);
        (void)add_coil(workshop, "A2").value();
        std::optional<RestorePlan> seen;
        const auto refused = restore(backup, file, days.surroundings(), [&](const auto& plan) {
            seen = plan;
            return false;
        });
        CHECK(refused.error().sentence == "nothing was changed");
        REQUIRE(seen.has_value());
        CHECK(seen->now->coils == 2);
        CHECK(seen->then.coils == 1);
        REQUIRE(seen->lost.size() == 1);
        CHECK(seen->lost.front().note.what == "add coil A2");
        CHECK(coils_in(file) == 2);

        const auto replaced = restore(backup, file, days.surroundings(), yes);
        REQUIRE(replaced.has_value());
        CHECK(coils_in(file) == 1);
        CHECK(coils_in(**replaced) == 2);
        CHECK((*replaced)->parent_path() == folder.path());
        CHECK(bytes_of(backup) == backup_bytes);
        // The window that had it open all the time sees it, and goes on.
        CHECK(workshop.catalogue().coils().count() == 1);
        CHECK(add_coil(workshop, "A3").has_value());
    }

    TEST_CASE("a catalogue is not restored from itself") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        auto workshop = Workshop::create(file, days.surroundings());
        const auto before = bytes_of(file);
        const auto refused = restore(folder / "." / "a.coilbook", file, days.surroundings(), yes);
        REQUIRE_FALSE(refused.has_value());
        says(refused.error().sentence, "is the catalogue itself");
        CHECK(bytes_of(file) == before);
        CHECK(folder.count() == 3);  // with its log; nothing was kept or staged
    }

    TEST_CASE("a damaged or missing catalogue is replaced, a damaged backup refused") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        const auto backup = folder / "b.coilbook";
        {
            auto workshop = Workshop::create(file, days.surroundings());
            (void)add_coil(workshop, "A1").value();
            (void)back_up(workshop, backup).value();
        }
        auto bytes = bytes_of(file);
        bytes.replace(4096, 4096, 4096, '\xEE');
        write_bytes(file, bytes);
        const auto replaced = restore(backup, file, days.surroundings(), yes);
        REQUIRE(replaced.has_value());
        CHECK(bytes_of(**replaced) == bytes);
        CHECK(coils_in(file) == 1);
        fs::remove(file);
        CHECK_FALSE(restore(backup, file, days.surroundings(), yes).value().has_value());
        CHECK(coils_in(file) == 1);

        write_bytes(folder / "bad.coilbook", bytes);
        CHECK(error_of([&] {
                  (void)restore(folder / "bad.coilbook", file, days.surroundings(), yes);
              }) != "");
        CHECK(coils_in(file) == 1);
        CHECK(error_of([&] {
                  (void)restore(folder / "none.coilbook", file, days.surroundings(), yes);
              }) != "");
    }
}

TEST_SUITE("Checking and salvaging") {
    TEST_CASE("a sound catalogue is fine in every row, a damaged one says where") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        {
            auto workshop = Workshop::create(file, days.surroundings());
            const auto coil = add_coil(workshop, "A1", "a note to be found").value();
            (void)record_reading(workshop, coil, ReadingField::tint, "dark").value();
        }
        std::ostringstream sound;
        CHECK(check_catalogue(file, sound, Format::csv));
        CHECK(sound.str() ==
              "inspected,state,detail\nthe file,fine,\nthe history,fine,\n"
              "the rows beside the history,fine,\nreadings as written,fine,\none of "
              "each,fine,\ncustody,fine,\nphotographs,fine,\n");
        auto bytes = bytes_of(file);
        const auto at = bytes.find("a note to be found");
        bytes[at] = 'A';
        write_bytes(file, bytes);
        std::ostringstream damaged;
        CHECK_FALSE(check_catalogue(file, damaged, Format::csv));
        says(damaged.str(), ",wrong,");
        std::ostringstream told;
        const auto outcome =
            salvage(file, folder / "new.coilbook", days.surroundings(), told, Format::table);
        CHECK_FALSE(outcome.is_whole);
        CHECK(outcome.classes_put_back == 0);
        std::ostringstream again;
        CHECK(check_catalogue(folder / "new.coilbook", again, Format::table));
        CHECK(coils_in(folder / "new.coilbook") == 1);
    }

    TEST_CASE("a salvage that was cut short leaves no catalogue, and the next one clears it away") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        { const auto workshop = Workshop::create(file, days.surroundings()); }
        std::ostringstream told;
        const auto made = [&] {
            return salvage(file, folder / "new.coilbook", days.surroundings(), told, Format::csv);
        };
        write_bytes(folder / "new.coilbook-wal", "a log of before");
        says(error_of(made), "new.coilbook-wal' exists already; move it away");
        fs::remove(folder / "new.coilbook-wal");
        write_bytes(folder / "new.coilbook.salvaging", "half a catalogue");
        CHECK(made().is_whole);
        CHECK_FALSE(fs::exists(folder / "new.coilbook.salvaging"));
        const auto lying_there = folder.count();
        says(error_of(made), "new.coilbook' exists already; move it away");
        CHECK(folder.count() == lying_there);
    }

    TEST_CASE("classes that were lost are put back by a salvage, retired ones stay retired") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        auto in_use = built_in_library();
        const auto lost = in_use.at(3).name;
        const auto retired = in_use.at(7).name;
        in_use.erase(in_use.begin() + 7);
        {
            auto workshop = Workshop::create(file, days.surroundings());
            workshop.catalogue().act(workshop.note("retire a class"), [&](store::Act& act) {
                workshop.catalogue().classes().put_library(act, in_use);
            });
        }
        auto bytes = bytes_of(file);
        // The rows of that class and of its history are no longer text; nor are other classes whose
        // basis names it, the retired one among them, of whose end the history still tells.
        for (std::size_t at = 0; (at = bytes.find(lost, at)) != std::string::npos; ++at) {
            bytes[at] = '\xFF';
        }
        write_bytes(file, bytes);
        std::ostringstream told;
        const auto outcome =
            salvage(file, folder / "new.coilbook", days.surroundings(), told, Format::table);
        CHECK_FALSE(outcome.is_whole);
        CHECK(outcome.classes_put_back > 1);
        says(told.str(), fmt::format("{} of the built-in library's", outcome.classes_put_back));
        auto made = Workshop::open(folder / "new.coilbook", days.surroundings());
        CHECK(made.library().size() == in_use.size());
        CHECK(made.catalogue().classes().has(lost));
        CHECK_FALSE(made.catalogue().classes().has(retired));
        for (const auto& inspection : made.catalogue().audit()) {
            CAPTURE(inspection.what);
            CHECK(inspection.wrong == std::vector<std::string>{});
        }
    }

    TEST_CASE("a file of a newer format is not salvaged, and stays as it is") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        { const auto workshop = Workshop::create(file, days.surroundings()); }
        auto bytes = bytes_of(file);
        bytes[63] = 99;  // user_version stands at byte 60, big end first (fileformat2.html, 1.3)
        write_bytes(file, bytes);
        const auto lying_there = folder.count();
        std::ostringstream told;
        says(error_of([&] {
                 (void)salvage(file, folder / "new.coilbook", days.surroundings(), told,
                               Format::table);
             }),
             "written by a newer version of this program (format 99");
        CHECK(told.str().empty());
        CHECK(bytes_of(file) == bytes);
        CHECK(folder.count() == lying_there);
    }

    TEST_CASE("nothing is written into a catalogue that opens but is damaged further back") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        {
            auto workshop = Workshop::create(file, days.surroundings());
            (void)add_coil(workshop, "A1", "a note to be found").value();
            (void)add_coil(workshop, "A2").value();
        }
        auto bytes = bytes_of(file);
        const auto at = bytes.find("a note to be found");
        bytes[at] = 'A';
        write_bytes(file, bytes);
        auto workshop = Workshop::open(file, days.surroundings());
        CHECK(days.warnings->empty());  // opening looks at the last act only
        days.set("2026-01-02");
        {  // an early look at it makes no backup of damage
            const EarlyCare care(file, days.surroundings());
            care.wait(workshop.progress());
        }
        CHECK(names_in(folder / "backups") == std::vector<std::string>{"a.2026-01-01.coilbook"});
        for (const char* code : {"A3", "A4"}) {
            says(error_of([&] { (void)add_coil(workshop, code); }),
                 "is damaged, and nothing more is written into it");
        }
        CHECK(workshop.catalogue().coils().count() == 2);
        const auto copy = back_up(workshop).value();
        CHECK_FALSE(copy.is_sound);
    }

    TEST_CASE("a damaged catalogue can be looked at, and the person is told") {
        const TemporaryFolder folder;
        const Days days;
        const auto file = folder / "a.coilbook";
        {
            auto workshop = Workshop::create(file, days.surroundings());
            (void)add_coil(workshop, "A1").value();
        }
        auto bytes = bytes_of(file);
        // Everywhere: a page may still hold an older copy of the row in its unused part.
        for (std::size_t at = 0; (at = bytes.find("add coil A1", at)) != std::string::npos; ++at) {
            bytes[at] = 'X';
        }
        write_bytes(file, bytes);
        auto workshop = Workshop::open(file, days.surroundings());
        REQUIRE(days.warnings->size() == 1);
        says(days.warnings->front(), "opened for reading only");
        CHECK(workshop.catalogue().coils().count() == 1);
        says(error_of([&] { (void)add_coil(workshop, "A2"); }), "opened for reading only");
        CHECK(bytes_of(file) == bytes);
    }
}
