// How fast the bin is being worked through.
#pragma once

#include <optional>

#include "app/workshop.h"

namespace coilbook::app {

// A break between two coils is not work.
inline constexpr auto longest_coil = std::chrono::minutes{15};
// The pace is that of the last so many coils.
inline constexpr std::size_t coils_of_the_pace = 20;

// The median time from one confirmed coil to the next, of the last ones that were confirmed one by
// one; breaks do not count, nor do coils confirmed together. Nothing before three such times.
// Throws Error if the catalogue cannot be read.
[[nodiscard]] std::optional<Duration> pace(Workshop& workshop);

}  // namespace coilbook::app
