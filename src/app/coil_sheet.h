// What is written down about one coil, as it was written.
#pragma once

#include <string>
#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"

namespace coilbook::app {

// The readings that count now, neither superseded nor withdrawn, oldest first. Throws Error.
[[nodiscard]] std::vector<Reading> current_readings(Workshop& workshop, const Coil& coil);

// Where a weight makes sense only in the other of grains and grams: the sentence that says so; else
// empty. Throws Error.
[[nodiscard]] std::string unit_doubt(Workshop& workshop, const Coil& coil);

}  // namespace coilbook::app
