// Looking closer at the plot of a page by keys: the same ones for every plot.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "bench/widgets/action.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench {

// The plot that a page shows just now, and what is seen of it.
struct ShownPlot {
    const PlotView& view;
    std::optional<PlotWindow>& window;  // nothing: all
};

// "closer", "further", "whole plot", and the four ways. What is not possible just now, since
// nothing or all is shown, is said to be so.
[[nodiscard]] std::vector<Action> plot_actions(const ShownPlot& plot);

// Does the one of that name; gives whether it is one. One looks closer about what the plot is
// looked at for, where that is seen, else about the middle.
bool perform(std::string_view action, const ShownPlot& plot);

}  // namespace coilbook::bench
