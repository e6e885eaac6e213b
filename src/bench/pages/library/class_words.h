// What is known about a class, told in words: for a tired guide, and for a student.
#pragma once

#include <string>
#include <vector>

#include "app/class_sheets.h"
#include "bench/pages/library/library_view.h"
#include "quantity/unit_set.h"

namespace coilbook::bench::library_page {

// "T-11", or of a tip without the word that its heading says: "size 8 type 6".
[[nodiscard]] std::string short_name_of(const ReferenceClass& reference);
// "level line", "matched tip for a size 8 line, type 6", …
[[nodiscard]] std::string kind_of(const ReferenceClass& reference);

// Under the mouse, on the map and in the list.
[[nodiscard]] std::string class_readout(const app::ClassSheet& sheet, const Units& units);
[[nodiscard]] std::string coil_readout(const app::ConfirmedExample& example,
                                       const app::LineFigures& figures, const Units& units);

// "6.3", or "rises" for what floats.
[[nodiscard]] std::string rate_words(Speed rate, const Units& units);

// The figures of its middle, built in and now.
[[nodiscard]] std::vector<FigureRow> figures_of(const app::ClassSheet& sheet, const Units& units);

// How many coils it learned from, how far that moved it, how sure it is now; or that it has not
// learned. In sentences.
[[nodiscard]] std::vector<std::string> learning_of(const app::ClassSheet& sheet,
                                                   const Units& units);

// Which other classes are the same line in the water; empty where none is.
[[nodiscard]] std::string alike_words(const std::string& name,
                                      const std::vector<std::string>& alike);

// What the class stands on, as the library says it, which speaks of grains, feet and inches, with
// these units instead; names of the trade stay what they are.
[[nodiscard]] std::string basis_in(const std::string& basis, const Units& units);

// What to do about confirmed coils that look wrong. `better` is the class that the worst of them
// fits better; may be empty.
[[nodiscard]] std::string remedy_for(std::size_t doubts, const std::string& better);

}  // namespace coilbook::bench::library_page
