// What is written down about one coil, as it was written.
#pragma once

#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"

namespace coilbook::app {

// The readings that count now, neither superseded nor withdrawn, oldest first. Throws Error.
[[nodiscard]] std::vector<Reading> current_readings(Workshop& workshop, const Coil& coil);

}  // namespace coilbook::app
