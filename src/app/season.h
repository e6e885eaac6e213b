// A season's losses as rows and as a plot, and what to buy or cut.
#pragma once

#include <filesystem>
#include <ostream>
#include <string>
#include <vector>

#include "app/inventory.h"
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
// What is gone for good of a class, beside what is left at hand: what to buy or cut is for the
// person to say.
struct Replacement {
    std::string class_name;
    int gone = 0, left = 0;
};
// The most first.
[[nodiscard]] std::vector<Replacement> replacements(Workshop& workshop, Inventory& inventory,
                                                    const Season& season);
// Columns: class, gone, left.
void write_to_replace(Workshop& workshop, const Season& season, std::ostream& out, Format format,
                      std::size_t terminal_width = 0);
// Bars by class, or by boat, of what was lost, damaged and retired.
[[nodiscard]] labels::BarPlot losses_plot(Workshop& workshop, Inventory& inventory,
                                          const Season& season, bool by_boat);
// Writes the rows of write_losses as .csv beside the catalogue; gives the file.
[[nodiscard]] std::filesystem::path save_losses(Workshop& workshop, const Season& season);

}  // namespace coilbook::app
