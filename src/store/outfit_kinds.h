// Boats, rigs, clients, outings, promises, handovers and conditions of coils as plain tables: a
// part of kinds.h.
#pragma once

#include <vector>

#include "store/kinds.h"

namespace coilbook::store {

// In the order in which they can be brought into a catalogue that has the coils already.
[[nodiscard]] std::vector<Kind> outfit_kinds();

}  // namespace coilbook::store
