#include "bench/catalogue_screen.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <set>

#include "app/coil_changes.h"
#include "base/error.h"
#include "bench/pages/bench/bench_page.h"
#include "bench/pages/coil/coil_page.h"
#include "support/a_photograph.h"
#include "support/temporary_folder.h"
#include "support/trees.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
namespace fs = std::filesystem;

namespace {

struct Seat {
    fs::path folder = build_tree() / "dropped";
    CatalogueScreen::Warnings warnings = std::make_shared<std::vector<std::string>>();
    CatalogueScreen screen{app::workshop_in_memory(), "one",
                           [](const std::string& path) {
                               return app::Workshop::open(path, app::foretold_surroundings());
                           },
                           warnings};

    Seat() {
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
    }
    [[nodiscard]] const bench_page::View& view() { return screen.desk().view(); }
};

}  // namespace

TEST_SUITE("What a person should know") {
    TEST_CASE("a warning of the catalogue is shown until it is closed") {
        Seat seat;
        seat.warnings->push_back("today's backup was not made");
        CHECK(seat.screen.act());
        CHECK(seat.view().failure == "today's backup was not made");
        CHECK(seat.warnings->empty());
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

TEST_SUITE("Everything that can be done in the window") {
    TEST_CASE("no two actions of a page and the window have the same name, words or key") {
        Seat seat;
        for (const char* page :
             {"Bench", "Bin", "Library", "Instruments", "Rigs", "Day", "Stock"}) {
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
