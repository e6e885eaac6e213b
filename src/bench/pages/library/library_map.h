// The map of the page Library: every class by diameter and weight per foot, the confirmed coils
// among them, and the lines of equal density and of equal sink rate that it is read by.
#pragma once

#include <optional>
#include <vector>

#include "app/class_sheets.h"
#include "bench/widgets/plot_view.h"
#include "bench/widgets/plot_window.h"
#include "quantity/unit_set.h"

namespace coilbook::bench::library_page {

// What does not change with what is chosen: axes, curves, legend and points. A class is an ellipse
// that holds 86 % of its lines; `unlisted` has no place in it. Curves of whole g/cm³ and in/s are
// seen from afar, those between them from close by; where rates are in cm/s, every 2.5 cm/s. A coil
// that was set aside has a sign of its own.
[[nodiscard]] PlotView ground_of(const std::vector<app::ClassSheet>& classes,
                                 const std::vector<app::ConfirmedExample>& examples,
                                 const Units& units = grains_and_feet);

// The ellipses: the chosen class strongest, and where it was before it learned; the others of
// `shown` (indices of `classes`) lightly, and all else faintly. The most important first.
[[nodiscard]] std::vector<PlotEllipse> ellipses_of(const std::vector<app::ClassSheet>& classes,
                                                   const std::vector<std::size_t>& shown,
                                                   const std::string& chosen,
                                                   const Units& units = grains_and_feet);

// A window with the class in the middle and its neighbourhood around it. Nothing for `unlisted`.
[[nodiscard]] std::optional<PlotWindow> close_up_of(const app::ClassSheet& sheet,
                                                    const Units& units = grains_and_feet);
// The same part of the map with its weights in other units.
[[nodiscard]] PlotWindow in_other_units(const PlotWindow& window, const Units& before,
                                        const Units& now);

}  // namespace coilbook::bench::library_page
