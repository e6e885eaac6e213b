// A plot as a file, to be printed or shown to somebody: the same picture as in the window, in its
// light colours.
#pragma once

#include <filesystem>
#include <functional>
#include <string_view>

#include "bench/widgets/bar_plot.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/plot_window.h"

namespace coilbook::bench {

enum class PictureKind { svg, pdf, png };
[[nodiscard]] std::string_view ending_of(PictureKind kind);  // ".svg"

// Its size: 960 by 640 pixels of the window at scale 1, that is 10 by 6⅔ inches on paper; bars are
// as high as they want to be. A PNG has twice as many pixels each way.
inline constexpr int picture_width = 960, picture_height = 640;

// Writes what `draw` draws into the box that it is given into `file`, in place of what may be
// there. Throws Error where it cannot be written.
using Drawing = std::function<void(Pen& pen, const PlotLook& look, const Rectangle& box)>;
void write_drawing(const Drawing& draw, const std::filesystem::path& file, PictureKind kind,
                   int height = picture_height);

// The same of a plot, as far as `shown` goes.
void write_plot(const PlotView& view, const PlotWindow& shown, const std::filesystem::path& file,
                PictureKind kind);
void write_plot(const BarPlotView& view, const std::filesystem::path& file, PictureKind kind);

}  // namespace coilbook::bench
