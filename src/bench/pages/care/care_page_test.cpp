// The page Care: what can be done for the catalogue without leaving the window.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "app/coil_changes.h"
#include "bench/pages/care/care_actions.h"
#include "bench/pages/care/care_page.h"
#include "bench/pages/care/care_screen.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"
#include "support/temporary_folder.h"
#include "support/trees.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::care_page;
namespace fs = std::filesystem;

namespace {

struct Seat {
    TemporaryFolder folder;
    fs::path file = folder / "shop.coilbook";
    app::Workshop workshop = app::Workshop::create(file, app::foretold_surroundings());
    SharedBin shared{workshop};
    bool is_unsaved = false;
    CarePage page{shared, [this] { return is_unsaved; }};
    Desk& desk = page.desk();

    Seat() { add("A1"); }
    void add(const char* code) {
        REQUIRE(app::add_coil(workshop, code).has_value());
        shared.refresh();
    }
    void perform(const char* action) {
        page.perform(action);
        desk.act();
        desk.look_round();
    }
    void type(const std::string& text) { desk.form().file = text; }
    [[nodiscard]] const View& view() { return desk.view(); }
    [[nodiscard]] std::string lines() {
        std::string all;
        for (const auto& each : view().lines) all += each + "\n";
        return all;
    }
};

// Another laptop, an hour later, with chances of its own.
app::Surroundings elsewhere() {
    auto surroundings = app::foretold_surroundings();
    surroundings.now = [now = surroundings.now] { return now() + std::chrono::hours(1); };
    surroundings.random = [random = surroundings.random] {
        auto bytes = random();
        bytes[1] = 77;
        return bytes;
    };
    return surroundings;
}

}  // namespace

TEST_SUITE("Backups from the window") {
    TEST_CASE("a backup goes beside the catalogue or where it is typed, and never over a file") {
        Seat seat;
        seat.perform("back up");
        seat.perform("do it");
        says(seat.view().message, "Backed up to ");
        says(seat.lines(), "is sound");
        seat.type("spring.coilbook");
        seat.perform("do it");
        CHECK(fs::exists(seat.folder / "spring.coilbook"));
        CHECK(seat.view().field_error.empty());
        seat.type("spring.coilbook");
        seat.perform("do it");
        says(seat.view().field_error, "exists already");
        CHECK(seat.desk.form().file == "spring.coilbook");  // what was typed stays
    }

    TEST_CASE("going back shows what would change, and does it when it is asked for again") {
        Seat seat;
        seat.perform("back up");
        seat.type((seat.folder / "before.coilbook").string());
        seat.perform("do it");
        seat.add("B2");
        seat.perform("go back to a backup");
        seat.type("before.coilbook");
        CHECK(seat.view().do_label == "Show what would change");
        seat.perform("do it");
        says(seat.lines(), "now:  2 coils");
        says(seat.lines(), "then: 1 coils");
        says(seat.lines(), "add coil B2");
        CHECK(seat.view().do_label == "Go back to it");
        CHECK_FALSE(seat.desk.take_anew().has_value());
        // Another file is another question.
        seat.type("other.coilbook");
        CHECK(seat.view().do_label == "Show what would change");
        CHECK(seat.view().lines.empty());
        seat.type("before.coilbook");
        seat.perform("do it");
        const auto told = seat.desk.take_anew();
        REQUIRE(told.has_value());
        says(*told, "Went back to before.coilbook; until now: shop.replaced-");
        seat.shared.follow();
        CHECK(seat.shared.bin().size() == 1);
    }

    TEST_CASE("what is typed elsewhere and not saved is not lost to a backup") {
        Seat seat;
        seat.add("B2");
        seat.perform("go back to a backup");
        REQUIRE_FALSE(seat.view().rows.empty());  // the day's own
        CHECK(seat.view().rows.front().is_at);
        seat.perform("do it");
        seat.is_unsaved = true;
        seat.perform("do it");
        says(seat.view().field_error, "not saved yet");
        CHECK_FALSE(seat.desk.take_anew().has_value());
        CHECK(seat.shared.bin().size() == 2);
    }

    TEST_CASE("what was done since it was shown is shown before anything is lost") {
        Seat seat;
        seat.perform("go back to a backup");
        seat.perform("do it");
        seat.add("C3");
        seat.perform("do it");
        CHECK_FALSE(seat.desk.take_anew().has_value());
        says(seat.view().message, "Something changed meanwhile");
        says(seat.lines(), "add coil C3");
    }

    TEST_CASE("what is no backup is refused beside the field") {
        Seat seat;
        seat.perform("go back to a backup");
        seat.type("shop.coilbook");
        seat.perform("do it");
        says(seat.view().field_error, "is the catalogue itself");
        seat.type("nothing.coilbook");
        seat.perform("do it");
        CHECK_FALSE(seat.view().failure.empty());
    }
}

TEST_SUITE("Looking through, tables and other copies") {
    TEST_CASE("a sound catalogue is said to be sound, thing by thing") {
        Seat seat;
        seat.perform("look through");
        seat.perform("do it");
        CHECK(seat.view().message == "The catalogue is sound.");
        says(seat.lines(), "the history: fine");
    }

    TEST_CASE("things of one kind are written as CSV, or as JSON by the name") {
        Seat seat;
        seat.perform("write a table");
        CHECK(seat.desk.form().kind == "coils");
        seat.perform("do it");
        CHECK(mentions(bytes_of(seat.folder / "shop-coils.csv"), ",A1,"));
        seat.perform("row below");
        CHECK(seat.desk.form().kind == "readings");
        seat.perform("row above");
        seat.type("coils.json");
        seat.perform("do it");
        CHECK(mentions(bytes_of(seat.folder / "coils.json"), "\"A1\""));
        seat.type("coils.json");
        seat.perform("do it");
        CHECK_FALSE(seat.view().field_error.empty());
    }

    TEST_CASE("what another laptop wrote is shown, and taken in when it is asked for again") {
        Seat seat;
        seat.perform("write out");
        seat.perform("do it");
        CHECK(fs::exists(seat.folder / "shop-exchange.exchange"));
        const auto boat = seat.folder / "boat.coilbook";
        REQUIRE(app::back_up(seat.workshop, boat).has_value());
        {
            auto other = app::Workshop::open(boat, elsewhere());
            REQUIRE(app::add_coil(other, "B9").has_value());
        }
        seat.perform("take in a copy");
        CHECK_FALSE(seat.view().may_do);
        REQUIRE(seat.desk.take_file(boat.string()));
        seat.perform("do it");
        says(seat.lines(), "would take in 1 act");
        CHECK(seat.shared.bin().size() == 1);
        seat.perform("do it");
        says(seat.view().message, "It is taken in");
        CHECK(seat.shared.bin().size() == 2);
        seat.type("shop-exchange.exchange");
        seat.perform("do it");
        seat.perform("do it");
        CHECK(seat.view().message == "Nothing new came in.");
        // That catalogues made apart become one is asked for with a key of its own.
        CHECK(seat.view().switches.front().label == "Only a copy of this catalogue");
        seat.perform("join");
        CHECK(seat.view().switches.front().label == "Also one that was made apart");
    }

    TEST_CASE("a catalogue in memory has nothing to take care of, which is said") {
        auto workshop = app::workshop_in_memory();
        SharedBin shared(workshop);
        CarePage page(shared, [] { return false; });
        page.perform("do it");
        page.desk().act();
        says(page.desk().view().failure, "is no file");
    }

    TEST_CASE("it is drawn small and large, light and dark, and done by key and by mouse") {
        for (const float scale : {1.0F, 2.0F}) {
            Seat seat;
            Robot robot(
                1280 * scale, 660 * scale,
                [&](const Look& look) {
                    care_page::draw(look, seat.desk);
                    seat.desk.act();
                },
                scale > 1 ? ThemeName::dark : ThemeName::light, scale);
            robot.frames(4);
            robot.click("row Write a table");
            robot.frames(4);
            CHECK(seat.desk.form().task == Task::table);
            CHECK(robot.see("do it").bottom <= 660 * scale);
            robot.press(key::f3);
            robot.frames(4);
            robot.type("copy.coilbook\n");
            robot.frames(4);
            CHECK(fs::exists(seat.folder / "copy.coilbook"));
            CHECK(robot.see("line").says.find("sound") != std::string::npos);
        }
    }
}
