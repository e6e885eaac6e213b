// How far off an instrument reads, standard by standard: points with bars of their uncertainty
// beside a line of no error, the one offset that fits them best as a band, and, where one does not
// fit, the straight line that would.
//
// The caller gives numbers in the axes' units; nothing is computed here but places on the screen.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/widgets/linear_axis.h"
#include "bench/widgets/look.h"

namespace coilbook::bench {

struct DeviationPoint {
    double at = 0;        // the standard
    double off = 0;       // how far the readings are above it
    double sure = 0;      // standard uncertainty: the bar is as long up as down
    std::string readout;  // shown under the mouse
    bool is_now = false;  // the standard at hand: drawn stronger
};

struct DeviationPlotView {
    LinearAxis x, y;
    std::string x_label, y_label;
    std::vector<DeviationPoint> points;
    struct Band {
        double middle = 0, sure = 0;
        std::string name;  // "one offset for all"
    };
    std::optional<Band> band;
    struct Slope {
        double at_zero = 0, per_unit = 0;
        std::string name;  // "stretched"
    };
    std::optional<Slope> slope;
    std::string empty;  // said in the middle if there are no points
};

// Draws it `width` by `height` pixels large.
void deviation_plot(const Look& look, const char* id, const DeviationPlotView& view, float width,
                    float height);

}  // namespace coilbook::bench
