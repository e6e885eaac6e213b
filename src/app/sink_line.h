// How fast a line of known weight and thickness sinks, as a row of `coilbook sink`.
#pragma once

#include <vector>

#include "app/table.h"
#include "line/sink_rate.h"
#include "line/water.h"

namespace coilbook::app {

// grains_per_foot, diameter_mm, density_g_cm3, reynolds, drag_coefficient, sink_rate_in_s,
// sink_rate_m_s.
[[nodiscard]] std::vector<Column> sink_columns();

// The cells under them; a line that rises has negative rates, and one that hangs still has no drag
// coefficient. REQUIRES: weight and diameter above zero.
[[nodiscard]] std::vector<Cell> sink_cells(const LineBody& line, const Water& water);

// The same for a person: the rate has its standard uncertainty, which is the drag law's alone
// (line/sink_rate.h), since nobody said how sure the weight and the diameter are.
[[nodiscard]] std::vector<Column> sink_summary_columns();
[[nodiscard]] std::vector<Cell> sink_summary_cells(const LineBody& line, const Water& water);

}  // namespace coilbook::app
