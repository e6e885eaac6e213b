#include "bench/widgets/axis.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

std::string labels(const Axis& axis, double least_gap = 0.0) {
    std::string all;
    for (const Tick& tick : ticks(axis, least_gap)) all += (all.empty() ? "" : " ") + tick.label;
    return all;
}

}  // namespace

TEST_SUITE("Logarithmic axes") {
    TEST_CASE("equal factors take equal space") {
        const Axis axis{1.0, 100.0};
        CHECK(near(axis.share(1.0), 0.0, 1e-12));
        CHECK(near(axis.share(10.0), 0.5, 1e-12));
        CHECK(near(axis.share(100.0), 1.0, 1e-12));
        CHECK(near(axis.value(0.25), 3.16228, 1e-5));  // 10 to the half
    }

    TEST_CASE("nothing and less than nothing lie outside") {
        const Axis axis{1.0, 100.0};
        CHECK(axis.share(0.0) < 0.0);
        CHECK(axis.share(-5.0) < 0.0);
    }

    TEST_CASE("over decades, ticks stand at 1, 2 and 5") {
        CHECK(labels({1.0, 100.0}, 0.1) == "1 2 5 10 20 50 100");
        CHECK(labels({0.5, 20.0}, 0.15) == "0.5 1 2 5 10 20");
    }

    TEST_CASE("over many decades, at powers of ten alone") {
        CHECK(labels({1e-3, 1e6}, 0.1) == "0.001 0.01 0.1 1 10 100 1000 10000 100000 1e+06");
    }

    TEST_CASE("over less than a decade, more of them") {
        CHECK(labels({2.0, 9.0}, 0.05) == "2 3 4 5 6 8");
        CHECK(labels({0.6, 1.5}, 0.1) == "0.6 0.8 1 1.2 1.4");
    }

    TEST_CASE("over very little, even steps") {
        CHECK(labels({10.0, 14.0}, 0.15) == "10 11 12 13 14");
        CHECK(labels({10.02, 10.11}, 0.15) == "10.02 10.04 10.06 10.08 10.1");
    }

    // With 1 2 3 4 5 6 8 and what crowds left out, 3 to 16 gr/ft had 3 4 5 8 10: a hole at 6.
    TEST_CASE("where some would crowd, a coarser set is taken and no value is left out of it") {
        // 8 to 10 is ln(1.25) / ln(16/3) = 13 % of the axis, 6 to 8 17 %, 3 to 4 17 %.
        CHECK(labels({3.0, 16.0}, 0.12) == "3 4 6 8 10");
        CHECK(labels({9.4, 12.7}, 22.0 / 250.0) == "9.5 10 10.5 11 11.5 12 12.5");
    }

    TEST_CASE("at every zoom there are ticks, about evenly, and they never crowd") {
        for (const double low : {0.21, 0.5, 0.83, 1.0, 2.7, 9.6, 31.0}) {
            for (double ratio = 1.002; ratio < 2e3; ratio *= 1.07) {
                for (const double least_gap : {0.05, 0.09, 0.15}) {
                    CAPTURE(low);
                    CAPTURE(ratio);
                    CAPTURE(least_gap);
                    const Axis axis{low, low * ratio};
                    const auto all = ticks(axis, least_gap);
                    REQUIRE(all.size() >= 2);
                    double least = 1.0, most = 0.0;
                    for (std::size_t at = 1; at < all.size(); ++at) {
                        const double gap =
                            axis.share(all[at].value) - axis.share(all[at - 1].value);
                        least = std::min(least, gap);
                        most = std::max(most, gap);
                    }
                    CHECK(least >= least_gap - 1e-9);
                    CHECK(most <= 3.2 * least);
                    CHECK(axis.share(all.front().value) >= -1e-9);
                    CHECK(axis.share(all.back().value) <= 1.0 + 1e-9);
                    // No more than half of the axis is without one.
                    CHECK(axis.share(all.front().value) < 0.5);
                    CHECK(axis.share(all.back().value) > 0.5);
                }
            }
        }
    }

    TEST_CASE("an axis round values leaves room on both sides") {
        const Axis axis = axis_round({5.0, 20.0}, 1.25);
        CHECK(near(axis.low, 4.0, 1e-9));
        CHECK(near(axis.high, 25.0, 1e-9));
    }

    TEST_CASE("one value, or none, still makes an axis") {
        const Axis one = axis_round({9.0}, 1.0, 4.0);
        CHECK(near(one.low, 4.5, 1e-9));
        CHECK(near(one.high, 18.0, 1e-9));
        const Axis none = axis_round({}, 1.15, 2.0);
        CHECK(none.low < none.high);
        const Axis useless = axis_round({-1.0, 0.0});
        CHECK(useless.low > 0.0);
    }
}
