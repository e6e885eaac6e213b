// A picture of the window in a PNG file.
#pragma once

#include <string>

#include "bench/shell/options.h"

namespace coilbook::bench {

// Writes the lower left `size` pixels of what was drawn last to `file`, whole or not at all.
// Throws Error where it cannot be written. REQUIRES: a current drawing context.
void write_picture(WindowSize size, const std::string& file);

}  // namespace coilbook::bench
