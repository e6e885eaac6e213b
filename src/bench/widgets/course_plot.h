// How something goes with something else: curves over even axes, each with the band that it is sure
// to. Drawn with a Pen, so that it looks the same in the window and in a file.
//
// The caller gives numbers in the axes' units; nothing is computed here but places.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/widgets/linear_axis.h"
#include "bench/widgets/look.h"
#include "bench/widgets/pen.h"
#include "bench/widgets/plot_frame.h"

namespace coilbook::bench {

struct CoursePoint {
    double x = 0, y = 0;
    double sure = 0;  // the band is as wide up as down
};
struct Course {
    std::vector<CoursePoint> points;  // from left to right
    std::string name;                 // in the legend and in the read-out
    std::size_t series = 0;
    Stroke stroke = Stroke::solid;
};

struct CoursePlotView {
    LinearAxis x, y;
    std::string x_label, y_label;
    std::vector<Course> courses;  // the first one in front
    std::string note;             // at the right end of the legend: "band: one standard deviation"
    std::string empty;            // said in the middle where there are no courses

    // What all courses say at the point nearest to `x`, a line each; empty without courses.
    struct ReadOut {
        double x = 0;
        std::vector<std::pair<double, std::size_t>> dots;  // y and series
        std::vector<std::size_t> at;                       // which point of each course
    };
    [[nodiscard]] std::optional<ReadOut> nearest(double x_value) const;
};

// Draws it into `box`. Gives where the inside of the axes is; nothing, and nothing is drawn, where
// there is no room.
std::optional<Rectangle> draw_course_plot(Pen& pen, const PlotLook& look,
                                          const CoursePlotView& view, const Rectangle& box);

// Into the window, `width` by `height` pixels large. Under the mouse, or at `pointed` (a value of
// x), the values there are marked, and `words(x index)` is shown beside the mouse. Gives the index
// of the point under the mouse, if any.
std::optional<std::size_t> course_plot(const Look& look, const char* id, const CoursePlotView& view,
                                       const std::vector<std::string>& words,
                                       std::optional<std::size_t> pointed, float width,
                                       float height);

}  // namespace coilbook::bench
