// A season's losses as rows and as a plot, and what to buy or cut.
#pragma once

#include <ostream>
#include <string>

#include "app/table.h"
#include "app/workshop.h"
#include "catalog/outing.h"
#include "labels/pages.h"

namespace coilbook::app {

// From the first day to the last, both counted, by the days of UTC.
struct Season {
    Day first, last;
};

// By boat and class. Columns: boat, class, lost, found, damaged, retired.
void write_losses(Workshop& workshop, const Season& season, std::ostream& out, Format format,
                  std::size_t terminal_width = 0);
// What is gone for good by class, the most first, beside what is left at hand: what to buy or cut
// is for the person to say. Columns: class, gone, left.
void write_to_replace(Workshop& workshop, const Season& season, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);
// Bars by class, or by boat, of what was lost, damaged and retired.
[[nodiscard]] labels::BarPlot losses_plot(Workshop& workshop, const Season& season, bool by_boat);

}  // namespace coilbook::app
