#include "bench/widgets/axis.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

std::string labels(const LogAxis& axis, double least_gap = 0.0) {
    std::string all;
    for (const Tick& tick : ticks(axis, least_gap)) all += (all.empty() ? "" : " ") + tick.label;
    return all;
}

}  // namespace

TEST_SUITE("Logarithmic axes") {
    TEST_CASE("equal factors take equal space") {
        const LogAxis axis{1.0, 100.0};
        CHECK(near(axis.share(1.0), 0.0, 1e-12));
        CHECK(near(axis.share(10.0), 0.5, 1e-12));
        CHECK(near(axis.share(100.0), 1.0, 1e-12));
        CHECK(near(axis.value(0.25), 3.16228, 1e-5));  // 10 to the half
    }

    TEST_CASE("nothing and less than nothing lie outside") {
        const LogAxis axis{1.0, 100.0};
        CHECK(axis.share(0.0) < 0.0);
        CHECK(axis.share(-5.0) < 0.0);
    }

    TEST_CASE("over decades, ticks stand at 1, 2 and 5") {
        CHECK(labels({1.0, 100.0}) == "1 2 5 10 20 50 100");
        CHECK(labels({0.5, 20.0}) == "0.5 1 2 5 10 20");
    }

    TEST_CASE("over less than a decade, more of them") {
        CHECK(labels({2.0, 9.0}) == "2 3 4 5 6 8");
        CHECK(labels({0.6, 1.5}) == "0.6 0.8 1");
    }

    TEST_CASE("over very little, even steps") {
        CHECK(labels({10.0, 14.0}) == "10 11 12 13 14");
    }

    TEST_CASE("ticks that crowd are left out") {
        // 8 to 10 is log(1.25)/log(10) = 9.7 % of a decade.
        CHECK(labels({1.0, 9.9}, 0.15) == "1 2 3 5 8");
    }

    TEST_CASE("an axis round values leaves room on both sides") {
        const LogAxis axis = axis_round({5.0, 20.0}, 1.25);
        CHECK(near(axis.low, 4.0, 1e-9));
        CHECK(near(axis.high, 25.0, 1e-9));
    }

    TEST_CASE("one value, or none, still makes an axis") {
        const LogAxis one = axis_round({9.0}, 1.0, 4.0);
        CHECK(near(one.low, 4.5, 1e-9));
        CHECK(near(one.high, 18.0, 1e-9));
        const LogAxis none = axis_round({}, 1.15, 2.0);
        CHECK(none.low < none.high);
        const LogAxis useless = axis_round({-1.0, 0.0});
        CHECK(useless.low > 0.0);
    }
}
