// A workshop for tests: in memory, with a clock and randomness that can be foretold.
#pragma once

#include <cstdint>
#include <memory>

#include "app/workshop.h"

namespace coilbook::app {

// Its clock goes on by a second each time that it is asked, from 2026-01-01.
[[nodiscard]] inline Surroundings foretold_surroundings() {
    const auto ticks = std::make_shared<std::int64_t>(0);
    const Instant start = *instant_from_text("2026-01-01T00:00:00Z");
    return {[=] { return start + std::chrono::seconds(++*ticks); },
            [=] {
                RandomBytes bytes{};
                bytes[0] = static_cast<std::uint8_t>(++*ticks % 256);
                return bytes;
            },
            "test", "coilbook test"};
}

[[nodiscard]] inline Workshop workshop_in_memory() {
    return Workshop::in_memory(foretold_surroundings());
}

}  // namespace coilbook::app
