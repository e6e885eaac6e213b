#include "bench/widgets/plot_window.h"

#include <doctest/doctest.h>

#include "bench/widgets/plot_actions.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

const PlotWindow whole{{0.1, 10.0}, {1.0, 100.0}};  // two decades each way

}  // namespace

TEST_SUITE("Looking closer at a plot") {
    TEST_CASE("twice as close about the middle leaves one decade, with the middle where it was") {
        const auto closer = zoomed(whole, whole, 0.5, 0.5, 2.0);
        CHECK(near(closer.x.low, 0.316228, 1e-6));  // 10 to the -1/2
        CHECK(near(closer.x.high, 3.16228, 1e-5));
        CHECK(near(closer.y.share(10.0), 0.5, 1e-12));
    }

    TEST_CASE("what is under the mouse stays under the mouse") {
        const double x = whole.x.value(0.3), y = whole.y.value(0.8);
        auto shown = whole;
        for (int turn = 0; turn < 5; ++turn) shown = zoomed(shown, whole, 0.3, 0.8, 1.3);
        CHECK(near(shown.x.share(x), 0.3, 1e-9));
        CHECK(near(shown.y.share(y), 0.8, 1e-9));
    }

    TEST_CASE("in and out again is where one was, and out of the whole there is no way") {
        const auto closer = zoomed(whole, whole, 0.5, 0.5, 3.0);
        const auto back = zoomed(closer, whole, 0.5, 0.5, 1.0 / 3.0);
        CHECK(near(back.x.low, whole.x.low, 1e-9));
        CHECK(near(back.y.high, whole.y.high, 1e-9));
        CHECK(zoomed(whole, whole, 0.1, 0.9, 0.2) == whole);
        CHECK_FALSE(unless_whole(back, whole).has_value());
        CHECK(unless_whole(closer, whole).has_value());
    }

    TEST_CASE("on even axes one looks closer and moves by even steps, below zero too") {
        const PlotWindow even{{-10, 30, Spacing::even}, {0, 8, Spacing::even}};
        const auto closer = zoomed(even, even, 0.25, 0.5, 2.0);
        CHECK(closer == PlotWindow{{-5, 15, Spacing::even}, {2, 6, Spacing::even}});
        CHECK(moved(closer, even, 0.25, -9) ==
              PlotWindow{{0, 20, Spacing::even}, {0, 4, Spacing::even}});
        CHECK(unless_whole(closer, even).has_value());
        CHECK_FALSE(unless_whole(zoomed(closer, even, 0.3, 0.3, 0.1), even).has_value());
    }

    TEST_CASE("no closer than a hundredth") {
        auto shown = whole;
        for (int turn = 0; turn < 100; ++turn) shown = zoomed(shown, whole, 0.5, 0.5, 2.0);
        CHECK(near(shown.x.high / shown.x.low, 1.0471285, 1e-6));  // 100 to the 1/100
    }

    TEST_CASE("moving stops at the edge, and keeps its size") {
        const auto closer = zoomed(whole, whole, 0.5, 0.5, 2.0);
        const auto right = moved(closer, whole, 0.25, 0.0);
        CHECK(near(right.x.low, 0.562341, 1e-6));  // a quarter of a decade on
        CHECK(right.y == closer.y);
        const auto edge = moved(closer, whole, 9.0, -9.0);
        CHECK(near(edge.x.high, 10.0, 1e-9));
        CHECK(near(edge.x.low, 1.0, 1e-9));
        CHECK(near(edge.y.low, 1.0, 1e-9));
    }

    TEST_CASE("a place is brought into the middle, unless it is near the edge") {
        const auto closer = zoomed(whole, whole, 0.5, 0.5, 4.0);
        const auto there = centred(closer, whole, 0.5, 20.0);
        CHECK(near(there.x.share(0.5), 0.5, 1e-9));
        CHECK(near(there.y.share(20.0), 0.5, 1e-9));
        CHECK(near(centred(closer, whole, 0.1, 20.0).x.low, 0.1, 1e-9));
    }

    TEST_CASE("a window that has left the plot behind shows all") {
        CHECK_FALSE(unless_whole({{20.0, 30.0}, {1.0, 2.0}}, whole).has_value());
    }

    TEST_CASE("by keys one looks closer about the coil in hand, and back at the whole") {
        PlotView view;
        view.x = whole.x;
        view.y = whole.y;
        PlotEllipse own{};
        own.x = 0.3;
        own.y = 50.0;
        own.emphasis = Emphasis::own;
        view.ellipses = {own};
        std::optional<PlotWindow> window;
        const ShownPlot plot{view, window};
        CHECK(perform("further", plot));  // not possible, and nothing happens
        CHECK_FALSE(window.has_value());
        CHECK(perform("closer", plot));
        CHECK(perform("closer", plot));
        REQUIRE(window.has_value());
        CHECK(near(window->x.share(0.3), whole.x.share(0.3), 1e-9));
        CHECK(near(window->y.share(50.0), whole.y.share(50.0), 1e-9));
        const auto before = *window;
        CHECK(perform("plot to the right", plot));
        CHECK(window->x.low > before.x.low);
        CHECK(perform("plot down", plot));
        CHECK(window->y.low < before.y.low);
        CHECK(perform("whole plot", plot));
        CHECK_FALSE(window.has_value());
        CHECK_FALSE(perform("undo", plot));
    }
}
