// The reference library that the program carries within itself: assets/reference_library.csv.
#pragma once

#include "catalog/reference_class.h"

namespace coilbook::app {

// Nothing learned yet. Throws Error if the program was built with a broken library.
[[nodiscard]] ReferenceLibrary built_in_library();

}  // namespace coilbook::app
