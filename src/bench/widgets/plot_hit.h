// What of a plot is under the mouse.
#pragma once

#include <optional>
#include <string>

#include "bench/widgets/plot_frame.h"

namespace coilbook::bench {

struct PlotHit {
    std::string readout;
    std::string key;          // of the ellipse; empty for anything else
    std::optional<Place> at;  // of a point
};

// The nearest point within reach of the mouse, and else the nearest mark of an ellipse; else the
// ellipse round the mouse that lies closest about it; else a curve within reach. Only what has a
// read-out, and no faint ellipse where another is. Nothing outside of the frame.
[[nodiscard]] std::optional<PlotHit> hit(const PlotView& view, const PlotFrame& frame, Place mouse,
                                         const PlotLook& look);

}  // namespace coilbook::bench
