// A plot in the window: what plot_view.h says, with a read-out under the mouse, and looked at
// closer by wheel and drag.
#pragma once

#include <optional>
#include <string>

#include "bench/widgets/look.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench {

// What the person did with it in this frame.
struct PlotDone {
    std::string clicked;  // the key of the ellipse that was clicked; mostly empty
};

// Draws it `width` by `height` pixels large, as far as `window` goes, nothing being all. The wheel
// looks closer about the mouse, a drag moves, a double click or the button in the corner shows all
// again: all of them change `window`, and the wheel then does not scroll what is around. The keys
// for that are in plot_actions.h.
PlotDone plot(const Look& look, const char* id, const PlotView& view,
              std::optional<PlotWindow>& window, float width, float height);

}  // namespace coilbook::bench
