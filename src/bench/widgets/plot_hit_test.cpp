#include "bench/widgets/plot_hit.h"

#include <doctest/doctest.h>

using namespace coilbook;
using namespace coilbook::bench;

namespace {

const PlotLook look{theme(ThemeName::light), 1.0F};

// 100 pixels a decade, from (0, 200) at the lower left.
const PlotFrame frame{{{0, 0}, {200, 200}}, {{1.0, 100.0}, {1.0, 100.0}}};

PlotEllipse an_ellipse(const char* name, double x, double y, double sd) {
    PlotEllipse made{};
    made.x = x;
    made.y = y;
    made.sd_ln_x = made.sd_ln_y = sd;
    made.readout = made.key = name;
    return made;
}

std::string under(const PlotView& view, Place mouse) {
    const auto found = hit(view, frame, mouse, look);
    return found ? found->readout : "";
}

}  // namespace

TEST_SUITE("What is under the mouse") {
    TEST_CASE("a point before the ellipse that it lies in, and the nearer of two") {
        PlotView view;
        view.ellipses = {an_ellipse("T-11", 10.0, 10.0, 0.3)};
        view.points = {{.x = 10.0, .y = 10.0, .readout = "A1"},
                       {.x = 12.0, .y = 10.0, .readout = "A2"}};
        CHECK(under(view, {101, 100}) == "A1");
        CHECK(under(view, {106, 100}) == "A2");  // ln 1.2 / ln 10 = 0.079: A2 is at 107.9
        CHECK(under(view, {100, 80}) == "T-11");
        CHECK(hit(view, frame, {100, 80}, look)->key == "T-11");
        CHECK(hit(view, frame, {101, 100}, look)->key.empty());
    }

    TEST_CASE("of two ellipses round it the one that it is deeper in") {
        PlotView view;
        view.ellipses = {an_ellipse("broad", 10.0, 10.0, 0.5),
                         an_ellipse("narrow", 13.0, 10.0, 0.1)};
        CHECK(under(view, {111, 112}) == "broad");   // 1.4 sd of the narrow one, 0.4 of the broad
        CHECK(under(view, {111, 104}) == "narrow");  // by its mark
    }

    TEST_CASE("a curve within a few pixels, and nothing beside it") {
        PlotView view;
        view.curves.push_back({.points = {{1.0, 1.0}, {100.0, 100.0}}, .readout = "4 g/cm³"});
        CHECK(under(view, {100, 102}) == "4 g/cm³");
        CHECK(under(view, {100, 140}).empty());
    }

    TEST_CASE("what is drawn only for orientation gives way to all else") {
        PlotView view;
        view.ellipses = {an_ellipse("before", 10.0, 10.0, 0.2), an_ellipse("now", 10.5, 10.0, 0.2)};
        view.ellipses[0].emphasis = Emphasis::faint;
        CHECK(under(view, {95, 90}) == "now");
        view.ellipses.pop_back();
        CHECK(under(view, {95, 90}) == "before");
    }

    TEST_CASE("outside of the axes there is nothing") {
        PlotView view;
        view.points = {{.x = 1.0, .y = 10.0, .readout = "A1"}};
        CHECK(under(view, {1, 100}) == "A1");
        CHECK(under(view, {-1, 100}).empty());
    }

    TEST_CASE("of courses all are read out at the value that is nearest across") {
        PlotView view;
        view.courses = {{{{1, 10, 0, "one"}, {10, 20, 0, "ten"}}},
                        {{{1, 5, 0, "-"}, {10, 8, 0, "-"}}}};
        const auto found = hit(view, frame, {90, 20}, look);
        REQUIRE(found.has_value());
        CHECK(found->readout == "ten");
        CHECK(found->is_upright);
        CHECK(found->at == std::vector<Place>{frame.at(10, 20), frame.at(10, 8)});
        CHECK(under(view, {10, 20}) == "one");
        CHECK(under(view, {10, 220}).empty());  // outside
    }
}
