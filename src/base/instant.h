// Moments, always in UTC. The domain is told the time; only app asks the clock.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "base/result.h"

namespace coilbook {

using Instant = std::chrono::sys_time<std::chrono::milliseconds>;

// "2026-11-25T09:34:35.120Z". Source: RFC 3339, which profiles ISO 8601.
[[nodiscard]] std::string to_text(Instant instant);

// The inverse of to_text; seconds may have 0 to 3 decimals. Years 1970 to 9999.
[[nodiscard]] Result<Instant> instant_from_text(std::string_view text);

}  // namespace coilbook
