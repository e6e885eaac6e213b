// What a plot shows, as plain values: two axes with ellipses, bands, curves, courses and points,
// each as uncertain as it is.
//
// The caller gives numbers in the axes' units; nothing is computed from them but places. The same
// value is drawn in the window (plot.h), looked at closer (plot_window.h) and written into files
// (bench/plot_file).
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "bench/widgets/axis.h"
#include "bench/widgets/marks.h"
#include "bench/widgets/pen.h"

namespace coilbook::bench {

// How strongly something is drawn.
enum class Emphasis {
    faint,   // only for orientation: a thin outline without a name
    light,   // one of many: thin, with its mark and, where there is room, its name
    normal,  // drawn out, with a name
    chosen,  // what the plot is looked at for: above the others, and strongest
    own,     // the coil in hand: last and in the colour of text
};

// An ellipse in the logarithms of both axes: where most of a class lies. REQUIRES: both axes are
// logarithmic.
struct PlotEllipse {
    double x = 0, y = 0;              // centre, in the axes' units
    double sd_ln_x = 0, sd_ln_y = 0;  // half axes before rotation, as standard deviations of ln
    double correlation = 0;           // -1 to 1
    Mark mark = Mark::disc;           // at its centre
    double reach = 2.0;               // how many standard deviations it is drawn out to
    std::size_t series = 0;           // colour of the theme
    Stroke stroke = Stroke::solid;
    Emphasis emphasis = Emphasis::normal;
    std::string name = {};     // written beside it, if there is room
    std::string readout = {};  // shown under the mouse
    std::string key = {};      // what a click on it gives; empty: it is not to be clicked

    [[nodiscard]] bool is_faint() const { return emphasis == Emphasis::faint; }
    [[nodiscard]] bool is_own() const { return emphasis == Emphasis::own; }
};

// A strip over the whole plot: what is known when only one of two figures is.
struct PlotBand {
    bool is_across = true;  // from left to right, between two values of y; else upright
    double low = 0, high = 0;
    std::string name = {};
};

struct PlotXy {
    double x = 0, y = 0;
};

// A line of equal something, for orientation: drawn behind all else, its name written along it.
struct PlotCurve {
    std::vector<PlotXy> points;  // in the order of drawing
    Stroke stroke = Stroke::solid;
    std::string name = {};        // "4 g/cm³"
    bool is_named_at_end = true;  // near its last point that is seen; else near the first
    std::string readout = {};     // shown under the mouse
    // Drawn where the y axis covers no more than this, as a ratio of its ends: curves between the
    // others come with the zoom.
    double up_to_span = std::numeric_limits<double>::infinity();
};

// How one thing goes with another: a line with the band that it is sure to.
struct PlotCourse {
    struct Point {
        double x = 0, y = 0;
        double sure = 0;           // the band is as wide up as down
        std::string readout = {};  // of all courses there, shown under the mouse
    };
    std::vector<Point> points;  // from left to right
    std::size_t series = 0;
    Stroke stroke = Stroke::solid;
};

struct PlotPoint {
    double x = 0, y = 0;
    double sure = 0;  // a bar as long up as down, if that is above 0
    Mark mark = Mark::disc;
    std::size_t series = 0;
    bool is_light = false;  // one of many: small, with a rim; a dot where there are hundreds
    std::string readout = {};
};

struct PlotLegend {
    Mark mark = Mark::disc;
    std::size_t series = 0;
    Stroke stroke = Stroke::solid;
    std::string name = {};
    // What is shown of it; a course is a thick line, a band a filled box with a rim.
    enum class Sign { both, mark, rimmed_mark, curve, course, band } sign = Sign::both;
};

struct PlotView {
    Axis x, y;  // all there is to see; a window (plot_window.h) may show less
    std::string x_label = {}, y_label = {};
    std::string y_unit = {};            // in place of y_label where that is too long
    std::vector<PlotEllipse> ellipses;  // the most important first
    std::vector<PlotBand> bands;
    std::vector<PlotCurve> curves;
    std::vector<PlotCourse> courses;  // the first one in front
    std::vector<PlotPoint> points;
    std::vector<PlotLegend> legend;
    std::string empty = {};  // said in the middle if there is nothing to show

    [[nodiscard]] bool has_nothing() const {
        return ellipses.empty() && courses.empty() && points.empty();
    }
};

}  // namespace coilbook::bench
