// A plot of two logarithmic axes with ellipses and points, and a read-out under the mouse.
//
// The caller gives numbers in the axes' units; nothing is computed here but places on the screen.
#pragma once

#include <string>
#include <vector>

#include "bench/widgets/axis.h"
#include "bench/widgets/look.h"
#include "bench/widgets/marks.h"

namespace coilbook::bench {

// How an outline is drawn, so that colour is not the only sign of a series.
enum class Stroke { solid, dashed, dotted, dash_dotted };

// An ellipse in the logarithms of both axes: where most of a class lies.
struct PlotEllipse {
    double x = 0, y = 0;              // centre, in the axes' units
    double sd_ln_x = 0, sd_ln_y = 0;  // half axes before rotation, as standard deviations of ln
    double correlation = 0;           // -1 to 1
    Mark mark = Mark::disc;           // at its centre
    double reach = 2.0;               // how many standard deviations it is drawn out to
    std::size_t series = 0;           // colour of the theme
    Stroke stroke = Stroke::solid;
    bool is_faint = false;  // only for orientation: drawn thinly, without a name
    bool own = false;       // the coil in hand: drawn last and strongest
    std::string name;       // written beside it, if there is room
    std::string readout;    // shown under the mouse
};

// A strip over the whole plot: what is known when only one of two figures is.
struct PlotBand {
    bool is_across = true;  // from left to right, between two values of y; else upright
    double low = 0, high = 0;
    std::string name;
};

struct PlotPoint {
    double x = 0, y = 0;
    Mark mark = Mark::disc;
    std::size_t series = 0;
    std::string readout;
};

struct PlotLegend {
    Mark mark = Mark::disc;
    std::size_t series = 0;
    Stroke stroke = Stroke::solid;
    std::string name;
};

struct PlotView {
    LogAxis x, y;
    std::string x_label, y_label;
    std::string y_unit;                 // in place of y_label where that is too long
    std::vector<PlotEllipse> ellipses;  // the most important first
    std::vector<PlotBand> bands;
    std::vector<PlotPoint> points;
    std::vector<PlotLegend> legend;
    std::string empty;  // said in the middle if there is nothing to show
};

// Draws it `width` by `height` pixels large.
void plot(const Look& look, const char* id, const PlotView& view, float width, float height);

}  // namespace coilbook::bench
