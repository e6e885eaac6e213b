// How fast a coil sinks in fresh and in sea water, from ice cold to warm.
#pragma once

#include <optional>
#include <ostream>
#include <vector>

#include "app/table.h"
#include "app/workshop.h"
#include "catalog/coil.h"
#include "metrology/measured.h"

namespace coilbook::app {

struct SinkInWater {
    Temperature temperature;
    Measured<Speed> fresh, sea;  // practical salinity 0 and 35; still water; negative: it rises
};

// From 0 to 25 °C in steps of 1 °C, by the coil's own readings, with the drag law's uncertainty;
// nothing where they do not tell. The same error of the drag law is in all of them.
[[nodiscard]] std::vector<SinkInWater> sink_by_water(Workshop& workshop, const Coil& coil);

// Rows: temperature_c, fresh_in_s, fresh_in_s_u, sea_in_s, sea_in_s_u. A Problem where the readings
// do not tell.
[[nodiscard]] Result<void> write_sink_by_water(Workshop& workshop, const Coil& coil,
                                               std::ostream& out, Format format,
                                               std::size_t terminal_width = 0);

}  // namespace coilbook::app
