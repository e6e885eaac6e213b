// The reference library that comes with the program.
#pragma once

#include "catalog/reference_class.h"

namespace coilbook::app {

// assets/reference_library.csv, as it was when the program was built.
[[nodiscard]] const ReferenceLibrary& built_in_library();

}  // namespace coilbook::app
