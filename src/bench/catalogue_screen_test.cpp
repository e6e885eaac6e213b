#include "bench/catalogue_screen.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <thread>

#include "app/coil_changes.h"
#include "base/error.h"
#include "bench/pages/bench/bench_page.h"
#include "bench/pages/care/care_page.h"
#include "bench/pages/coil/coil_page.h"
#include "bench/worker.h"
#include "support/a_photograph.h"
#include "support/temporary_folder.h"
#include "support/trees.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
namespace fs = std::filesystem;

namespace {

// Until what takes its time on another thread is over and shown.
void until_worked(CatalogueScreen& screen) {
    while (screen.keeps_still()) screen.act();
}

struct Seat {
    fs::path folder = build_tree() / "dropped";
    CatalogueScreen::Warnings warnings = std::make_shared<std::vector<std::string>>();
    CatalogueScreen screen{app::workshop_in_memory(), "one",
                           [](const std::string& path) {
                               return app::Workshop::open(path, app::foretold_surroundings());
                           },
                           warnings};

    Seat() {
        screen.show_work_after(std::chrono::minutes(1));
        fs::remove_all(folder);
        fs::create_directories(folder);
    }
    std::string file(const char* name, const char* text) const {
        std::ofstream(folder / name) << text;
        return (folder / name).string();
    }
    void drop(const std::string& path) {
        screen.receive({path});
        screen.act();
        until_worked(screen);
    }
    [[nodiscard]] const bench_page::View& view() { return screen.desk().view(); }
};

}  // namespace

TEST_SUITE("Which units numbers are shown in") {
    TEST_CASE("one action changes them on every page, and tells whoever remembers") {
        Seat seat;
        std::vector<std::string> remembered;
        seat.screen.when_units_change(
            [&](const Units& units) { remembered.emplace_back(units.name); });
        const auto ends = [&] { return seat.screen.units().name; };
        CHECK(ends() == "grains and feet");
        seat.screen.perform("other units");
        CHECK(ends() == "grams and metres");
        seat.screen.perform("other units");
        CHECK(ends() == "grains and feet");
        CHECK(remembered == std::vector<std::string>{"grams and metres", "grains and feet"});
    }

    TEST_CASE("a catalogue that is dropped is shown in them, too") {
        Seat seat;
        const auto path = (seat.folder / "other.coilbook").string();
        static_cast<void>(app::Workshop::create(path, app::foretold_surroundings()));
        seat.screen.show_in(grams_and_metres);
        seat.drop(path);
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"A1"});
        seat.screen.act();
        CHECK(seat.view().readings.front().unit == "cm");
    }
}

TEST_SUITE("What a person should know") {
    TEST_CASE("a warning of the catalogue is shown until it is closed") {
        Seat seat;
        seat.warnings->push_back("today's backup was not made");
        CHECK(seat.screen.act());
        CHECK(seat.view().failure == "today's backup was not made");
        CHECK(seat.warnings->empty());
    }
}

TEST_SUITE("A catalogue that is shown before it has been looked through") {
    // A leaf of an index (its first byte is 10) near the end of the file, which no first figure
    // needs. Source of the layout: SQLite's documentation, fileformat2.html, section 1.6.
    void damage_an_index(const fs::path& file) {
        constexpr std::size_t page = 4096;
        auto bytes = bytes_of(file);
        for (auto at = bytes.size() - page; at > 0; at -= page) {
            if (bytes[at] != 10 || bytes[at + 4] == 0) continue;  // not that, or an empty one
            bytes.replace(at, 100, 100, '\xEE');
            return write_bytes(file, bytes);
        }
        FAIL("no index found");
    }

    struct Shown {
        TemporaryFolder folder;
        CatalogueScreen::Warnings warnings = std::make_shared<std::vector<std::string>>();
        fs::path file = folder / "a.coilbook";
        app::Surroundings surroundings = app::foretold_surroundings();

        Shown() {
            surroundings.warn = [this](const std::string& words) { warnings->push_back(words); };
            auto workshop = app::Workshop::create(file, surroundings);
            for (int at = 0; at < 40; ++at) {
                REQUIRE(app::add_coil(workshop, "A" + std::to_string(at)));
            }
        }
        CatalogueScreen open() {
            const auto looked_at = [this](const std::string& path) {
                return app::Workshop::open(path, surroundings);
            };
            return {app::Workshop::open_at_once(file, surroundings), "a", looked_at, warnings};
        }
        static void until_looked_through(CatalogueScreen& screen) {
            until_worked(screen);
            for (int turn = 0; turn < 10000 && screen.is_busy(); ++turn) screen.act();
            REQUIRE_FALSE(screen.is_busy());
            screen.act();  // what is to be said is said
        }
    };

    TEST_CASE("of a sound one nothing is said, and it can be changed at once") {
        Shown shown;
        auto screen = shown.open();
        screen.desk().outbox().post(bench_page::MakeCoil{"B1"});
        screen.act();
        Shown::until_looked_through(screen);
        CHECK(screen.desk().view().failure.empty());
        CHECK(screen.desk().view().bin.rows.size() == 41);
    }

    TEST_CASE("damage is told in the window, which then only reads; nothing was written before") {
        Shown shown;
        damage_an_index(shown.file);
        const auto bytes = bytes_of(shown.file);
        for (const bool is_quick : {true, false}) {  // somebody types before the check is over
            CAPTURE(is_quick);
            auto screen = shown.open();
            screen.show_in(grams_and_metres);
            CHECK(screen.desk().view().bin.rows.size() == 40);
            if (is_quick) {
                screen.desk().outbox().post(bench_page::MakeCoil{"B1"});
                screen.act();
            }
            Shown::until_looked_through(screen);
            CHECK(mentions(screen.desk().view().failure, "is damaged"));
            CHECK(mentions(screen.desk().view().failure, "opened for reading only"));
            CHECK(screen.desk().view().bin.rows.size() == 40);
            screen.desk().outbox().post(bench_page::EnterCode{"A1"});
            screen.act();
            REQUIRE_FALSE(screen.desk().view().readings.empty());
            CHECK(screen.desk().view().readings.front().unit == "cm");
            screen.desk().outbox().post(CloseFailure{});
            screen.desk().outbox().post(bench_page::MakeCoil{"B2"});
            screen.act();
            CHECK(mentions(screen.desk().view().failure, "opened for reading only"));
            CHECK(screen.desk().view().bin.rows.size() == 40);
        }
        CHECK(bytes_of(shown.file) == bytes);
    }
}

TEST_SUITE("Files dropped on the window") {
    TEST_CASE("a readings file is taken in, and the window says what came in") {
        Seat seat;
        seat.drop(
            seat.file("two.csv", "code,sample_length,sample_weight\nA1,24 in,22.4 gr\nA2,,\n"));
        CHECK(seat.view().message == "Taken in from two.csv: 2 coils, 2 readings");
        CHECK(seat.view().bin.rows.size() == 2);
        CHECK(seat.view().failure.empty());
    }

    TEST_CASE("a file with a bad row brings nothing in, and its first problem is said") {
        Seat seat;
        seat.drop(seat.file("bad.csv", "code,sample_length\nA1,24 in\nA2,24 gr\nA3,no idea\n"));
        CHECK(seat.view().bin.rows.empty());
        CHECK(mentions(seat.view().failure, "Nothing was taken in from bad.csv"));
        CHECK(mentions(seat.view().failure, "bad.csv:3"));
        CHECK(mentions(seat.view().failure, "and 1 more"));
    }

    TEST_CASE("the same file a second time has codes that are taken") {
        Seat seat;
        const std::string file = seat.file("one.csv", "code\nA1\n");
        seat.drop(file);
        seat.drop(file);
        CHECK(seat.view().bin.rows.size() == 1);
        CHECK_FALSE(seat.view().failure.empty());
    }

    TEST_CASE("what is no text, a folder and what is not there are refused in words") {
        Seat seat;
        for (const std::string& path : {seat.file("sound.wav", "RIFF\x24\xFF\xFEWAVE"),
                                        seat.folder.string(), (seat.folder / "nothing").string()}) {
            CAPTURE(path);
            seat.drop(path);
            CHECK_FALSE(seat.view().failure.empty());
            seat.screen.desk().outbox().post(CloseFailure{});
            seat.screen.act();
        }
        CHECK(seat.view().bin.rows.empty());
    }

    TEST_CASE("a dropped catalogue takes the place of the one that is open") {
        Seat seat;
        const fs::path file = seat.folder / "other.coilbook";
        {
            auto other = app::Workshop::create(file, app::foretold_surroundings());
            REQUIRE(app::add_coil(other, "Z9"));
        }
        seat.drop(file.string());
        CHECK(seat.screen.subtitle() == "other.coilbook");
        REQUIRE(seat.view().bin.rows.size() == 1);
        CHECK(seat.view().bin.rows[0].code == "Z9");
    }

    TEST_CASE("nothing typed is lost to a dropped catalogue") {
        Seat seat;
        const fs::path file = seat.folder / "other.coilbook";
        { const auto other = app::Workshop::create(file, app::foretold_surroundings()); }
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"A1"});
        seat.screen.act();
        seat.screen.desk().form().typed.text(ReadingField::sample_length) = "23.5";
        seat.drop(file.string());
        CHECK(seat.screen.subtitle() == "one");
        CHECK(mentions(seat.view().failure, "not saved yet"));
        CHECK(seat.screen.desk().form().typed.text(ReadingField::sample_length) == "23.5");
    }

    TEST_CASE("what only looks like a catalogue leaves the open one open") {
        Seat seat;
        std::ofstream(seat.folder / "broken.coilbook") << std::string("SQLite format 3\0junk", 20);
        seat.drop((seat.folder / "broken.coilbook").string());
        CHECK(seat.screen.subtitle() == "one");
        CHECK_FALSE(seat.view().failure.empty());
    }
}

TEST_SUITE("Work that takes its time") {
    // A catalogue on the disk, so that another thread can open it as well.
    struct OnDisk {
        TemporaryFolder folder;
        fs::path file = folder / "a.coilbook";
        app::Surroundings surroundings = app::foretold_surroundings();  // one clock for all threads
        CatalogueScreen screen{
            app::Workshop::create(file, surroundings), "a",
            [this](const std::string& path) { return app::Workshop::open(path, surroundings); },
            std::make_shared<std::vector<std::string>>()};

        std::string many_coils(int count) {
            std::string rows = "code,sample_length,sample_weight\n";
            for (int at = 0; at < count; ++at) rows += fmt::format("K{},24 in,22.4 gr\n", at);
            write_bytes(folder / "many.csv", rows);
            return (folder / "many.csv").string();
        }
        [[nodiscard]] const bench_page::View& view() { return screen.desk().view(); }
    };

    TEST_CASE("a file is taken in while the window goes on; keys wait, other files too") {
        OnDisk seat;
        seat.screen.act();
        until_worked(seat.screen);
        seat.screen.show_work_after({});
        seat.screen.receive({seat.many_coils(300)});
        seat.screen.act();
        CHECK(seat.screen.keeps_still());
        write_bytes(seat.folder / "one.csv", "code\nZ1\n");
        seat.screen.receive({(seat.folder / "one.csv").string()});
        until_worked(seat.screen);
        CHECK(seat.view().message == "Taken in from many.csv: 300 coils, 600 readings");
        CHECK(seat.view().bin.rows.size() == 300);
        seat.screen.act();
        until_worked(seat.screen);
        CHECK(seat.view().message == "Taken in from one.csv: 1 coil, 0 readings");
        write_bytes(seat.folder / "two.csv", "code,tints\nZ2,dark\n");
        seat.screen.receive({(seat.folder / "two.csv").string()});
        seat.screen.act();
        until_worked(seat.screen);
        CHECK(seat.view().message == "Taken in from two.csv: 1 coil, 0 readings. " +
                                         (seat.folder / "two.csv").string() +
                                         ":1: tints: the column is unknown; it is kept as notes; "
                                         "expected perhaps 'tint'");
    }

    TEST_CASE("broken off it leaves nothing behind, and the next change is as always") {
        OnDisk seat;
        const auto before = seat.folder.count();
        // The disk's first question is answered by somebody who has had enough.
        seat.screen.desk().outbox().post(bench_page::TakeInFile{seat.many_coils(50)});
        seat.surroundings.progress->break_off();
        seat.screen.desk().act();
        CHECK(mentions(seat.view().failure, "broken off, and everything is as it was before"));
        CHECK(seat.view().bin.rows.empty());
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"A1"});
        seat.screen.act();
        until_worked(seat.screen);
        CHECK(seat.view().bin.rows.size() == 1);
        CHECK(seat.folder.count() <= before + 2);  // the file itself, and the day's backup
    }

    TEST_CASE("the check and the backup before the day's first change can be broken off") {
        OnDisk seat;
        const auto backups = seat.folder / "backups";
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"A1"});
        seat.surroundings.progress->break_off();
        seat.screen.desk().act();
        CHECK(mentions(seat.view().failure, "broken off, and everything is as it was before"));
        CHECK(seat.view().bin.rows.empty());
        CHECK((!fs::exists(backups) || fs::is_empty(backups)));
        // The next change has both again, and not after it.
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"A1"});
        seat.screen.act();
        until_worked(seat.screen);
        CHECK(seat.view().bin.rows.size() == 1);
        REQUIRE(fs::exists(backups));
        for (const auto& copy : fs::directory_iterator(backups)) {
            auto before = app::Workshop::open(copy.path(), seat.surroundings);
            CHECK(SharedBin(before).lines().empty());
        }
    }

    TEST_CASE("going back to a backup begins anew on it, and says so") {
        OnDisk seat;
        seat.screen.show_work_after(std::chrono::minutes(1));
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"A1"});
        seat.screen.act();
        seat.screen.perform("Care");
        for (const char* action : {"go back to a backup", "do it", "do it"}) {
            seat.screen.perform(action);
            seat.screen.act();
        }
        CHECK(seat.screen.page().name() == "Care");
        auto& care = dynamic_cast<care_page::CarePage&>(seat.screen.page()).desk();
        says(care.view().message, "Went back to a.2026-01-01.coilbook");
        CHECK(seat.view().bin.rows.empty());
        seat.screen.perform("Bench");
        seat.screen.desk().outbox().post(bench_page::MakeCoil{"B2"});
        seat.screen.act();
        CHECK(seat.view().bin.rows.size() == 1);
        CHECK(seat.view().failure.empty());
    }

    TEST_CASE("a large catalogue is read while the window is there already, or it closes again") {
        const TemporaryFolder folder;
        {
            auto made = app::Workshop::create(folder / "a.coilbook", app::foretold_surroundings());
            REQUIRE(app::add_coil(made, "A1"));
        }
        for (const bool is_there : {true, false}) {
            Seat seat;
            seat.screen.open_first((folder / (is_there ? "a.coilbook" : "b.coilbook")).string());
            CHECK(seat.screen.keeps_still());
            until_worked(seat.screen);
            CHECK(seat.screen.take_wish().quit != is_there);
            CHECK(seat.screen.why_not_opened().empty() == is_there);
            CHECK(seat.view().bin.rows.size() == (is_there ? 1 : 0));
        }
    }

    TEST_CASE("how far it is goes up to the end, and an error of the disk is told") {
        Worker worker(std::make_shared<app::Progress>());
        const auto until_over = [&] {
            while (!worker.is_over()) std::this_thread::yield();
        };
        worker.begin(
            [&] {
                worker.progress().begin("Working");
                for (const double part : {0.25, 0.5}) worker.progress().reached(part);
                throw Error("the disk is full");
            },
            {});
        CHECK(worker.is_at_work());
        CHECK_THROWS_WITH_AS(until_over(), "the disk is full", Error);
        CHECK_FALSE(worker.is_at_work());
        CHECK(worker.progress().part() == 0.5);
        CHECK(worker.progress().words() == "Working");
        worker.begin(
            [&] {
                while (true) worker.progress().reached(0.1);
            },
            std::chrono::milliseconds(1));
        CHECK(worker.is_at_work());
        CHECK_FALSE(worker.is_over());
        worker.progress().break_off();
        until_over();
        bool is_done = false;
        worker.begin([&] { is_done = true; }, std::chrono::minutes(1));
        CHECK(is_done);
        CHECK(worker.is_over());
    }
}

TEST_SUITE("Everything that can be done in the window") {
    TEST_CASE("no two actions of a page and the window have the same name, words or key") {
        Seat seat;
        for (const char* page :
             {"Bench", "Bin", "Library", "Instruments", "Rigs", "Day", "Stock", "Care"}) {
            CAPTURE(page);
            seat.screen.perform(page);
            REQUIRE(seat.screen.page().name() == page);
            std::set<std::string_view> names, words;
            std::set<std::string> keys;
            const auto actions = seat.screen.actions();
            std::size_t with_key = 0;
            for (const Action& action : actions) {
                names.insert(action.name);
                words.insert(action.says);
                if (action.chord.key == 0) continue;
                keys.insert(name_of(action.chord));
                ++with_key;
            }
            CHECK(names.size() == actions.size());
            CHECK(words.size() == actions.size());
            CHECK(keys.size() == with_key);
        }
    }

    TEST_CASE("the window's own are asked of the shell, once") {
        Seat seat;
        seat.screen.perform("other colours");
        CHECK(seat.screen.take_wish().other_theme);
        CHECK_FALSE(seat.screen.take_wish().any());
        seat.screen.perform("quit");
        CHECK(seat.screen.take_wish().quit);
    }
}

TEST_SUITE("The coil in hand goes along") {
    TEST_CASE(
        "the page Coil is about the coil in hand at the bench, and then about the bin's row") {
        Seat seat;
        seat.drop(seat.file("two.csv", "code\nA1\nA2\n"));
        seat.screen.desk().outbox().post(bench_page::EnterCode{"A2"});
        seat.screen.act();
        seat.screen.perform("Coil");
        CHECK(seat.screen.page().title() == "Coil A2");
        // Another page in between, which is about no coil, changes nothing.
        seat.screen.perform("Library");
        seat.screen.perform("Coil");
        CHECK(seat.screen.page().title() == "Coil A2");
        seat.screen.perform("Bin");
        seat.screen.act();
        (void)seat.screen.page().title();  // it stands on its first row when it is looked at
        seat.screen.perform("Coil");
        CHECK(seat.screen.page().title() == "Coil A1");
        seat.screen.perform("to the bench");
        seat.screen.act();
        CHECK(seat.screen.page().name() == "Bench");
        CHECK(mentions(seat.screen.page().title(), "A1"));
    }

    TEST_CASE("a dropped photograph is taken of the coil in hand, and shown") {
        Seat seat;
        seat.drop(seat.file("two.csv", "code\nA1\nA2\n"));
        seat.screen.desk().outbox().post(bench_page::EnterCode{"A2"});
        seat.screen.act();
        write_bytes(seat.folder / "loop.png", a_png(30, 20));
        seat.drop((seat.folder / "loop.png").string());
        CHECK(seat.screen.page().name() == "Coil");
        auto& page = dynamic_cast<coil_page::CoilPage&>(seat.screen.page());
        CHECK(page.desk().view().failure.empty());
        REQUIRE(page.desk().view().photo.photo != nullptr);
        CHECK(page.desk().view().photo.photo->width == 30);
    }

    TEST_CASE("without a coil in hand the photograph is not taken, and it says what to do") {
        Seat seat;
        write_bytes(seat.folder / "loop.png", a_png(30, 20));
        seat.drop((seat.folder / "loop.png").string());
        auto& page = dynamic_cast<coil_page::CoilPage&>(seat.screen.page());
        CHECK(mentions(page.desk().view().failure, "No coil is in hand"));
    }

    TEST_CASE("a damaged photograph is refused in words") {
        Seat seat;
        seat.drop(seat.file("one.csv", "code\nA1\n"));
        seat.screen.desk().outbox().post(bench_page::EnterCode{"A1"});
        seat.screen.act();
        seat.drop(seat.file("picture.png", "\x89PNG\r\n\x1A\n\xFF\xFE"));
        auto& page = dynamic_cast<coil_page::CoilPage&>(seat.screen.page());
        CHECK(mentions(page.desk().view().failure, "damaged"));
        CHECK(page.desk().view().photo.photo == nullptr);
    }
}
