#include "bench/widgets/plot_picture.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "bench/widgets/a_pen.h"
#include "support/near.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

const PlotLook look{theme(ThemeName::light), 1.0F};
const Rectangle paper{{0, 0}, {600, 400}};

// Two decades each way, with nothing in it.
PlotView an_empty_plot() {
    PlotView view;
    view.x = {0.1, 10.0};
    view.y = {1.0, 100.0};
    view.x_label = "Diameter, mm";
    view.y_label = "Weight per foot, gr/ft";
    view.y_unit = "gr/ft";
    view.empty = "Nothing";
    return view;
}

PlotEllipse an_ellipse(const char* name, double x, double y) {
    PlotEllipse made{};
    made.x = x;
    made.y = y;
    made.sd_ln_x = made.sd_ln_y = 0.1;
    made.name = made.key = name;
    made.readout = name;
    return made;
}

PlotFrame draw(NotingPen& pen, const PlotView& view) {
    const auto frame = draw_plot(pen, look, view, {view.x, view.y}, paper);
    REQUIRE(frame.has_value());
    CHECK(pen.open_clips == 0);
    return *frame;
}

}  // namespace

TEST_SUITE("Drawing a plot") {
    TEST_CASE("an empty one has axes, and says that there is nothing") {
        NotingPen pen;
        draw(pen, an_empty_plot());
        CHECK(pen.find("Nothing") != nullptr);
        CHECK(pen.find("Diameter, mm") != nullptr);
        REQUIRE(pen.find("Weight per foot, gr/ft") != nullptr);
        CHECK(near(pen.find("Weight per foot, gr/ft")->turn, 1.5707963, 1e-6));  // upwards
        CHECK(pen.find("10") != nullptr);
    }

    TEST_CASE("where there is no room for anything that could be read, nothing is drawn") {
        NotingPen pen;
        CHECK_FALSE(draw_plot(pen, look, an_empty_plot(), {{1, 2}, {1, 2}}, {{0, 0}, {90, 60}}));
        CHECK(pen.words.empty());
    }

    TEST_CASE("a name stands beside its ellipse, and two names not over one another") {
        PlotView view = an_empty_plot();
        view.ellipses = {an_ellipse("one", 1.0, 10.0), an_ellipse("other", 1.02, 10.0)};
        NotingPen pen;
        const PlotFrame frame = draw(pen, view);
        const auto* one = pen.find("one");
        const auto* other = pen.find("other");
        REQUIRE(one != nullptr);
        REQUIRE(other != nullptr);
        const Place at = frame.at(1.0, 10.0);
        CHECK(std::abs(one->middle.x - at.x) < 40);
        const bool apart = std::abs(one->middle.y - other->middle.y) >= 16 ||
                           std::abs(one->middle.x - other->middle.x) >= 32;
        CHECK(apart);
    }

    TEST_CASE("a curve's name runs along it and is never upside down") {
        PlotView view = an_empty_plot();
        view.curves.push_back({.points = {{0.1, 1.0}, {10.0, 100.0}}, .name = "rising"});
        view.curves.push_back({.points = {{10.0, 1.0}, {0.1, 100.0}}, .name = "falling"});
        NotingPen pen;
        const PlotFrame frame = draw(pen, view);
        const float slope = std::atan2(frame.inside.height(), frame.inside.width());
        REQUIRE(pen.find("rising") != nullptr);
        REQUIRE(pen.find("falling") != nullptr);
        CHECK(near(pen.find("rising")->turn, slope, 1e-3));
        CHECK(near(pen.find("falling")->turn, -slope, 1e-3));
        // Near the last point: the right upper corner, and the left upper one.
        CHECK(pen.find("rising")->middle.x > 450);
        CHECK(pen.find("falling")->middle.x < 150);
    }

    TEST_CASE("of a curve only what is inside is drawn, however close one looks") {
        PlotView view = an_empty_plot();
        view.curves.push_back({.points = {{0.1, 1.0}, {10.0, 100.0}}});
        NotingPen pen;
        const PlotWindow close{{1.0, 1.05}, {10.0, 10.5}};
        const auto frame = draw_plot(pen, look, view, close, paper);
        REQUIRE(frame.has_value());
        const auto runs = seen_of(view.curves[0], *frame);
        REQUIRE(runs.size() == 1);
        for (const Place at : runs[0]) CHECK(frame->inside.holds(at));
    }

    TEST_CASE("a curve that leaves the plot and comes back is drawn in two parts") {
        PlotView view = an_empty_plot();
        const PlotCurve curve{.points = {{0.2, 10.0}, {0.5, 1000.0}, {2.0, 1000.0}, {5.0, 10.0}}};
        NotingPen pen;
        const auto frame = draw(pen, view);
        CHECK(seen_of(curve, frame).size() == 2);
    }

    TEST_CASE("curves between the others come with the zoom") {
        PlotView view = an_empty_plot();
        view.curves.push_back(
            {.points = {{0.1, 1.0}, {10.0, 100.0}}, .name = "between", .up_to_span = 3.0});
        NotingPen far, close;
        draw(far, view);
        CHECK(far.find("between") == nullptr);
        CHECK(draw_plot(close, look, view, {{0.8, 1.2}, {8.0, 12.0}}, paper).has_value());
        CHECK(close.find("between") != nullptr);
    }

    TEST_CASE("of ten thousand points those that lie upon one another are drawn once") {
        PlotView view = an_empty_plot();
        for (int at = 0; at < 10'000; ++at) {
            const double turn = 0.618034 * at;  // spread over an ellipse, and far from even
            const double far = 0.3 * std::sqrt(at / 10'000.0);
            PlotPoint point;
            point.x = std::exp(far * std::cos(6.2832 * turn));
            point.y = 10.0 * std::exp(far * std::sin(6.2832 * turn));
            point.is_light = true;
            view.points.push_back(point);
        }
        NotingPen pen;
        draw(pen, view);
        CHECK(pen.dot_centres.size() > 500);
        CHECK(pen.dot_centres.size() <= 4001);
    }

    TEST_CASE("a legend that is too long for one line takes two, and no more") {
        PlotView view = an_empty_plot();
        NotingPen pen;
        for (const char* name : {"level line", "tip", "leader"})
            view.legend.push_back({.name = name});
        CHECK(legend_lines(pen, look, view, 540) == 1);
        for (int at = 0; at < 20; ++at) view.legend.push_back({.name = "something else"});
        CHECK(legend_lines(pen, look, view, 540) == 2);
    }

    TEST_CASE("the higher course stands higher, and its band reaches up and down by as much") {
        NotingPen pen;
        PlotView view;
        view.x = {0, 25, Spacing::even};
        view.y = {0, 10, Spacing::even};
        view.courses = {{{{0, 6, 0.5}, {10, 7, 0.5}, {25, 8, 0.5}}, 0, Stroke::solid},
                        {{{0, 5, 0.5}, {10, 6, 0.5}, {25, 7, 0.5}}, 1, Stroke::dashed}};
        view.legend = {{.name = "fresh", .sign = PlotLegend::Sign::course},
                       {.name = "one standard deviation", .sign = PlotLegend::Sign::band}};
        const auto frame = draw(pen, view);
        CHECK(pen.find("fresh") != nullptr);
        CHECK(pen.find("one standard deviation") != nullptr);
        REQUIRE(pen.shapes.size() >= 4);  // two pieces for each
        // The last two are those in front, from 0 to 10 and from 10 to 25.
        const auto& piece = pen.shapes[pen.shapes.size() - 2];
        const float middle = (piece[0].y + piece[3].y) / 2;
        CHECK(middle == doctest::Approx(frame.inside.high.y - 0.6F * frame.inside.height()));
        CHECK(piece[3].y - piece[0].y == doctest::Approx(0.1F * frame.inside.height()));
        CHECK(piece[0].x == doctest::Approx(frame.inside.low.x));
        CHECK(piece[1].x == doctest::Approx(frame.inside.low.x + 0.4F * frame.inside.width()));
    }

    TEST_CASE("a point has a bar as long up as down, and long labels have their room") {
        NotingPen pen;
        PlotView view;
        view.x = {0, 100, Spacing::even};
        view.y = {-0.00004, 0.00004, Spacing::even};
        view.points = {{.x = 50, .y = 0.00001, .sure = 0.00001}};
        const auto frame = draw(pen, view);
        const Place top = frame.at(50, 0.00002), bottom = frame.at(50, 0);
        const auto bar = std::ranges::find_if(pen.lines, [&](const NotingPen::Line& line) {
            return line.points == std::vector<Place>{top, bottom};
        });
        CHECK(bar != pen.lines.end());
        const auto* label = pen.find("-0.00004");
        REQUIRE(label != nullptr);
        CHECK(label->middle.x - 32 > 0);  // eight letters of eight pixels
        CHECK(label->middle.x + 32 < frame.inside.low.x);
    }
}
