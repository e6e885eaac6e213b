// Every coil that somebody said what it is, with its readings: what classes learn from, and what
// answers can be held against.
#pragma once

#include <string>
#include <vector>

#include "app/workshop.h"
#include "catalog/coil.h"

namespace coilbook::app {

struct SaidCoil {
    Coil coil;  // retired ones, too: they are examples all the same
    std::string class_name;
    CoilReadings readings;
};

// By code. Throws Error where the file cannot be read.
[[nodiscard]] std::vector<SaidCoil> confirmed_coils(Workshop& workshop);

}  // namespace coilbook::app
