// Counts of several kinds for each of several things: a bar a row, in pieces, each kind with a
// pattern of its own as well as a colour. Drawn with a Pen, so that it looks the same in the window
// and in a file. A count is exact: there is no uncertainty to show.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bench/widgets/look.h"
#include "bench/widgets/plot_frame.h"

namespace coilbook::bench {

struct BarRow {
    std::string name;
    std::vector<int> counts;  // one for each kind

    [[nodiscard]] int sum() const;
    bool operator==(const BarRow&) const = default;
};

struct BarPlotView {
    std::string title = {};          // above it in a file; the window has its own
    std::vector<std::string> kinds;  // at most three: "lost", "damaged"
    std::vector<BarRow> rows;        // from top to bottom
    std::string empty = {};          // said where there are none

    // What is shown under the mouse: "Heron: 2 lost, 1 damaged".
    [[nodiscard]] std::string readout(const BarRow& row) const;
};

// How high it wants to be, legend, title and axis included.
[[nodiscard]] float height_of(const BarPlotView& view, const PlotLook& look, float line_height);

// Draws it into `box`, rows squeezed together where it is not high enough. Gives where each row is.
std::vector<Rectangle> draw_bars(Pen& pen, const PlotLook& look, const BarPlotView& view,
                                 const Rectangle& box);

// Into the window, `width` by `height` pixels large; what is higher is scrolled by the wheel.
void bar_plot(const Look& look, const char* id, const BarPlotView& view, float width, float height);

}  // namespace coilbook::bench
