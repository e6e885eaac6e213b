#include "bench/widgets/course_plot.h"

#include <doctest/doctest.h>

#include "bench/widgets/a_pen.h"

using namespace coilbook;
using namespace coilbook::bench;

namespace {

CoursePlotView a_course() {
    CoursePlotView view;
    view.x = {0, 25};
    view.y = {0, 10};
    view.x_label = "Water";
    view.y_label = "Rate";
    view.note = "one standard deviation";
    view.courses = {{{{0, 6, 0.5}, {10, 7, 0.5}, {25, 8, 0.5}}, "fresh", 0, Stroke::solid},
                    {{{0, 5, 0.5}, {10, 6, 0.5}, {25, 7, 0.5}}, "sea", 1, Stroke::dashed}};
    return view;
}
constexpr Rectangle box{{0, 0}, {500, 300}};

}  // namespace

TEST_SUITE("Courses") {
    TEST_CASE("both curves have their names, and the axes theirs") {
        NotingPen pen;
        const PlotLook look{theme(ThemeName::light), 1.0F};
        const auto inside = draw_course_plot(pen, look, a_course(), box);
        REQUIRE(inside.has_value());
        for (const char* name : {"fresh", "sea", "Water", "Rate", "one standard deviation", "25"}) {
            CAPTURE(name);
            const auto* words = pen.find(name);
            REQUIRE(words != nullptr);
            CHECK(box.holds(words->middle));
        }
        CHECK(pen.open_clips == 0);
    }

    TEST_CASE("the higher rate stands higher, and its band reaches up and down by as much") {
        NotingPen pen;
        const PlotLook look{theme(ThemeName::light), 1.0F};
        const auto inside = draw_course_plot(pen, look, a_course(), box);
        REQUIRE(inside.has_value());
        REQUIRE(pen.shapes.size() == 4);  // two pieces for each
        // The last two are those in front: fresh, from 0 to 10 degrees.
        const auto& piece = pen.shapes[2];
        const float middle = (piece[0].y + piece[3].y) / 2;
        CHECK(middle == doctest::Approx(inside->high.y - 0.6F * inside->height()));
        CHECK(piece[3].y - piece[0].y == doctest::Approx(0.1F * inside->height()));
        CHECK(piece[0].x == doctest::Approx(inside->low.x));
        CHECK(piece[1].x == doctest::Approx(inside->low.x + 0.4F * inside->width()));
    }

    TEST_CASE("the nearest point of each is read out") {
        const auto read = a_course().nearest(12);
        REQUIRE(read.has_value());
        CHECK(read->x == 10);
        CHECK(read->dots == std::vector<std::pair<double, std::size_t>>{{7, 0}, {6, 1}});
        CHECK(read->at == std::vector<std::size_t>{1, 1});
        CHECK_FALSE(CoursePlotView{}.nearest(1).has_value());
    }

    TEST_CASE("without courses it says why, and without room it draws nothing") {
        NotingPen pen;
        const PlotLook look{theme(ThemeName::light), 1.0F};
        CoursePlotView view;
        view.empty = "Nothing read yet";
        REQUIRE(draw_course_plot(pen, look, view, box).has_value());
        CHECK(pen.find("Nothing read yet") != nullptr);
        CHECK_FALSE(draw_course_plot(pen, look, view, {{0, 0}, {80, 80}}).has_value());
    }
}
