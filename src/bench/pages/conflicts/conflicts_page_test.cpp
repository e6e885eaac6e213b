// The page Conflicts: two laptops that were apart, and somebody who says what is right.
#include <doctest/doctest.h>

#include "app/coil_changes.h"
#include "app/custody.h"
#include "app/merge.h"
#include "bench/pages/conflicts/conflicts_actions.h"
#include "bench/pages/conflicts/conflicts_page.h"
#include "bench/pages/conflicts/conflicts_screen.h"
#include "bench/widgets/keys.h"
#include "support/robot.h"
#include "support/temporary_folder.h"
#include "support/words.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::bench;
using namespace coilbook::bench::conflicts_page;
namespace fs = std::filesystem;

namespace {

// Coil A7 was lost by the one and damaged by the other; coil B1 was noted upon by both.
struct Seat {
    TemporaryFolder folder;
    app::Workshop workshop = merged(folder);
    SharedBin shared{workshop};
    ConflictsPage page{shared};
    Desk& desk = page.desk();

    static app::Workshop opened(const fs::path& file, const char* laptop, int hours) {
        auto surroundings = app::foretold_surroundings();
        surroundings.laptop = laptop;
        surroundings.now = [now = surroundings.now, hours] {
            return now() + std::chrono::hours(hours);
        };
        return app::Workshop::open(file, surroundings);
    }
    static app::Workshop merged(const TemporaryFolder& folder) {
        const auto shop = folder / "shop.coilbook", boat = folder / "boat.coilbook";
        {
            auto begun = app::Workshop::create(shop, app::foretold_surroundings());
            REQUIRE(app::add_coil(begun, "A7").has_value());
        }
        fs::copy_file(shop, boat);
        {
            auto other = opened(boat, "boat laptop", 2);
            hand(other, Whereabouts::damaged);
        }
        auto here = opened(shop, "shop laptop", 1);
        hand(here, Whereabouts::lost);
        REQUIRE(app::merge(here, boat).has_value());
        return here;
    }
    static void hand(app::Workshop& workshop, Whereabouts to) {
        REQUIRE(app::hand_over(workshop, {to, "", "", "", {"A7"}}).has_value());
    }
    void perform(const char* action) {
        bench::perform(action, desk);
        desk.act();
    }
};

}  // namespace

TEST_SUITE("The page Conflicts") {
    TEST_CASE("it tells what both said, who and when, and which stands") {
        Seat seat;
        says(seat.page.word_at_start(), "disagree on 1 thing. Alt 9 shows it");
        CHECK(seat.page.has_tab());
        const View& view = seat.desk.view();
        REQUIRE(view.rows.size() == 1);
        CHECK(view.rows[0].thing == "coil A7");
        CHECK(view.title == "coil A7, place: handed over on two laptops");
        REQUIRE(view.choices.size() == 2);
        CHECK(view.choices[0].value == "lost");
        says(view.choices[0].who, "test on shop laptop");
        CHECK(view.choices[1].value == "damaged");
        CHECK(view.choices[1].stands);
    }

    TEST_CASE("one key settles it, and Ctrl Z takes that back") {
        Seat seat;
        seat.perform("settle as 3");  // there is none
        CHECK(seat.desk.count() == 1);
        seat.perform("settle as 1");
        CHECK(seat.desk.count() == 0);
        CHECK_FALSE(seat.page.has_tab());
        CHECK(seat.page.word_at_start().empty());
        says(seat.desk.view().message, "settled coil A7, place: lost");
        says(app::where_is(seat.workshop, "A7").value(), "lost");
        seat.perform("undo");
        says(app::where_is(seat.workshop, "A7").value(), "damaged");
        seat.perform("redo");
        says(app::where_is(seat.workshop, "A7").value(), "lost");
    }

    TEST_CASE("it is drawn small and large, light and dark, and settled by key and by mouse") {
        for (const float scale : {1.0F, 2.0F}) {
            Seat seat;
            Robot robot(
                1280 * scale, 660 * scale,
                [&](const Look& look) {
                    conflicts_page::draw(look, seat.desk);
                    seat.desk.act();
                },
                scale > 1 ? ThemeName::dark : ThemeName::light, scale);
            robot.frames(4);
            CHECK(robot.see("choice 2").bottom <= 660 * scale);
            if (scale > 1) {
                robot.click("settle as 2");
            } else {
                robot.press_with_control('2');
            }
            robot.frames(4);
            CHECK(seat.desk.count() == 0);
        }
    }
}
