// Draws a plot with a Pen. For the files that draw one into the window or into a file.
#pragma once

#include <vector>

#include "bench/widgets/plot_frame.h"

namespace coilbook::bench {

// Draws all of `view` into `box`, labels and legend included, as far as `shown` goes. Gives the
// frame that it was drawn in; nothing, and nothing is drawn, where there is no room.
std::optional<PlotFrame> draw_plot(Pen& pen, const PlotLook& look, const PlotView& view,
                                   const PlotWindow& shown, const Rectangle& box);

// The marks of an upright axis so many pixels high.
[[nodiscard]] std::vector<Tick> ticks_up(const PlotLook& look, const Axis& axis, float height);

// Its parts, from back to front.
void draw_axes(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame);
void draw_curves(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame);
void draw_courses(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame);
void draw_ellipse(Pen& pen, const PlotLook& look, const PlotEllipse& ellipse,
                  const PlotFrame& frame);
void draw_band(Pen& pen, const PlotLook& look, const PlotBand& band, const PlotFrame& frame);
void draw_points(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame);
// The names of ellipses and curves, none over another.
void draw_names(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame);

// The parts of `curve` that are inside of the frame, as runs of places.
[[nodiscard]] std::vector<std::vector<Place>> seen_of(const PlotCurve& curve,
                                                      const PlotFrame& frame);
// Whether it is drawn at this zoom.
[[nodiscard]] bool is_shown(const PlotCurve& curve, const PlotFrame& frame);

// The legend, in as many lines as it needs, at most two.
[[nodiscard]] int legend_lines(const Pen& pen, const PlotLook& look, const PlotView& view,
                               float width);
void draw_legend(Pen& pen, const PlotLook& look, const PlotView& view, const PlotFrame& frame,
                 int lines);

}  // namespace coilbook::bench
