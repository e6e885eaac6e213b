#include "app/sink_line.h"

#include "quantity/units.h"

namespace coilbook::app {

std::vector<Column> sink_columns() {
    return {{"grains_per_foot", true}, {"diameter_mm", true},      {"density_g_cm3", true},
            {"reynolds", true},        {"drag_coefficient", true}, {"sink_rate_in_s", true, 3},
            {"sink_rate_m_s", true, 3}};
}

std::vector<Cell> sink_cells(const LineBody& line, const Water& water) {
    const auto sinking = sink(line, water);
    return {cell_of(line.weight_per_length.in(grain_per_foot)),
            cell_of(line.diameter.in(millimetre)),
            cell_of(density(line).in(gram_per_cubic_centimetre)),
            cell_of(sinking.reynolds),
            cell_of(sinking.drag_coefficient),
            cell_of(sinking.rate.in(inch_per_second)),
            cell_of(sinking.rate.in(metre_per_second))};
}

}  // namespace coilbook::app
