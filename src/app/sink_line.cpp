#include "app/sink_line.h"

#include <cmath>

#include "quantity/print.h"
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

std::vector<Column> sink_summary_columns() {
    return {{"gr/ft", true},    {"mm", true},          {"g/cm3", true},     {"Re", true},
            {"drag C_D", true}, {"sinks in/s", false}, {"sinks m/s", false}};
}

std::vector<Cell> sink_summary_cells(const LineBody& line, const Water& water) {
    const auto sinking = sink(line, water);
    auto cells = sink_cells(line, water);
    const double part = sink_rate_model_uncertainty(sinking.reynolds);
    const auto sure = [&](Speed unit) {
        const double rate = sinking.rate.in(unit);
        return with_uncertainty(rate, std::abs(rate) * part);
    };
    cells[5] = sure(inch_per_second);
    cells[6] = sure(metre_per_second);
    return cells;
}

}  // namespace coilbook::app
