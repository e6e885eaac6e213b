#include "outings/season.h"

#include <doctest/doctest.h>

#include "support/an_outfit.h"

using namespace coilbook;

namespace {

std::string class_by_number(const Thing& thing) {
    return thing == coil_thing(3) ? "T-14" : "T-11";
}

}  // namespace

TEST_SUITE("A season's losses") {
    TEST_CASE("losses are told by boat and class; what was found again is no loss") {
        const auto record = RecordBuilder()
                                .hand(coil_thing(1), on_boat(1))
                                .hand(coil_thing(1), lost_from(1))
                                .hand(coil_thing(2), on_boat(1))
                                .hand(coil_thing(2), lost_from(1))
                                .hand(coil_thing(2), in_bin())
                                .hand(coil_thing(3), on_boat(2))
                                .hand(coil_thing(3), lost_from(2))
                                .hand(coil_thing(4), {.where = Whereabouts::damaged})
                                .hand(coil_thing(5), {.where = Whereabouts::damaged})
                                .hand(coil_thing(5), in_bin())
                                .record();
        const auto losses =
            season_losses(record, minute_after_start(0), minute_after_start(100), class_by_number);
        REQUIRE(losses.size() == 3);
        CHECK(losses[0] == SeasonLoss{.boat = {}, .class_name = "T-11", .damaged = 1});
        CHECK(losses[1] ==
              SeasonLoss{.boat = id_of<Boat>(1), .class_name = "T-11", .lost = 1, .found = 1});
        CHECK(losses[2] == SeasonLoss{.boat = id_of<Boat>(2), .class_name = "T-14", .lost = 1});
        CHECK(to_replace(losses) == std::vector<ToReplace>{{"T-11", 2}, {"T-14", 1}});
    }

    TEST_CASE("a season has a first and a last day") {
        const auto record = RecordBuilder()
                                .hand(coil_thing(1), lost_from(1))  // minute 1
                                .hand(coil_thing(2), lost_from(1))  // minute 2
                                .hand(coil_thing(4), lost_from(1))  // minute 3
                                .record();
        const auto losses =
            season_losses(record, minute_after_start(2), minute_after_start(3), class_by_number);
        REQUIRE(losses.size() == 1);
        CHECK(losses[0].lost == 1);
        CHECK(season_losses({}, {}, {}, class_by_number).empty());
        CHECK(to_replace({}).empty());
    }
}
