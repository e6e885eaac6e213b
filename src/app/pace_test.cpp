#include "app/pace.h"

#include <doctest/doctest.h>

#include <memory>

#include "app/coil_changes.h"
#include "app/undo.h"
#include "store/confirmation_repository.h"
#include "support/near.h"
#include "support/workshop.h"

using namespace coilbook;
using namespace coilbook::app;

namespace {

// A workshop whose clock is set by hand.
struct Evening {
    std::shared_ptr<Instant> clock = std::make_shared<Instant>(std::chrono::sys_days{
        std::chrono::year{2026} / 11 / 25});
    Workshop workshop = Workshop::in_memory([this] {
        auto surroundings = foretold_surroundings();
        surroundings.now = [clock = clock] { return *clock; };
        return surroundings;
    }());
    int coils = 0;

    Coil coil() { return add_coil(workshop, "A" + std::to_string(++coils)).value(); }
    void confirm_after(std::chrono::seconds time) {
        *clock += time;
        REQUIRE(confirm_coil(workshop, coil(), "T-11").has_value());
    }
};

}  // namespace

TEST_SUITE("The pace of the work") {
    using namespace std::chrono_literals;

    TEST_CASE("it is the median time from coil to coil") {
        Evening evening;
        for (const auto time : {0s, 60s, 70s, 300s}) evening.confirm_after(time);
        CHECK(near(pace(evening.workshop).value(), 70.0 * second, 1e-9 * second));
    }

    TEST_CASE("it is not told before three coils were followed by another") {
        Evening evening;
        for (const auto time : {0s, 60s, 70s}) evening.confirm_after(time);
        CHECK_FALSE(pace(evening.workshop));
    }

    TEST_CASE("a break is not work, nor are coils that were confirmed together") {
        Evening evening;
        for (const std::chrono::seconds time : {0s, 60s, 8 * 3600s, 62s, 64s}) {
            evening.confirm_after(time);
        }
        const Coil one = evening.coil(), other = evening.coil();
        *evening.clock += 5s;
        REQUIRE(confirm_coils(evening.workshop, {{one, "T-8"}, {other, "T-8"}}).has_value());
        CHECK(near(pace(evening.workshop).value(), 62.0 * second, 1e-9 * second));
    }
}

TEST_SUITE("Several coils confirmed together") {
    TEST_CASE("they are one act, which is undone as one") {
        Evening evening;
        const Coil one = evening.coil(), other = evening.coil();
        REQUIRE(confirm_coils(evening.workshop, {{one, "T-8"}, {other, "T-14"}}).has_value());
        auto& said = evening.workshop.catalogue().confirmations();
        CHECK(said.current_of(other.id)->class_name == "T-14");
        CHECK(history(evening.workshop).front().note.what == "confirm 2 coils: A1 and A2");
        REQUIRE(undo(evening.workshop).has_value());
        CHECK(said.current().empty());
    }

    TEST_CASE("where one cannot be, none is") {
        Evening evening;
        const Coil one = evening.coil(), other = evening.coil();
        CHECK_FALSE(confirm_coils(evening.workshop, {{one, "T-8"}, {other, "T-1000"}}).has_value());
        CHECK_FALSE(confirm_coils(evening.workshop, {}).has_value());
        CHECK(evening.workshop.catalogue().confirmations().current().empty());
    }
}
