// A theme and a scale, told to the widget library.
#pragma once

#include "bench/widgets/look.h"

namespace coilbook::bench {

// Sets every colour, padding and radius of the current context anew; nothing of the old remains.
void apply_style(const Look& look);

}  // namespace coilbook::bench
