// What of a plot is under the mouse.
#pragma once

#include <optional>
#include <string>

#include "bench/widgets/plot_frame.h"

namespace coilbook::bench {

struct PlotHit {
    std::string readout;
    std::string key;          // of the ellipse; empty for anything else
    std::vector<Place> at;    // of a point, or of all courses at one value of x
    bool is_upright = false;  // they stand on one upright line
};

// The nearest point within reach of the mouse, and else the nearest mark of an ellipse; else the
// ellipse round the mouse that lies closest about it; else a curve within reach; else the points of
// the courses that are nearest across. Only what has a read-out, and no faint ellipse where another
// is. Nothing outside of the frame.
[[nodiscard]] std::optional<PlotHit> hit(const PlotView& view, const PlotFrame& frame, Place mouse,
                                         const PlotLook& look);

}  // namespace coilbook::bench
