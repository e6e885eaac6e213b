// Readings that are refused rather than weighed up: nothing sensible would be left of them.
#pragma once

#include <optional>

#include "base/result.h"
#include "catalog/readings.h"
#include "metrology/instrument.h"
#include "quantity/unit_set.h"

namespace coilbook {

// Readings outside these together are no line's.
inline constexpr LinearDensity lightest_conceivable_line = 0.001 * grain_per_foot;
inline constexpr LinearDensity heaviest_conceivable_line = 10'000.0 * grain_per_foot;
inline constexpr Speed slowest_conceivable_drop = 0.005 * inch_per_second;
inline constexpr Speed fastest_conceivable_drop = 200.0 * inch_per_second;

// The instruments that a coil's readings were taken with.
struct BenchInstruments {
    const Scale& scale;
    const Tape& tape;
    const Micrometer& micrometer;
    const Stopwatch& stopwatch;
    const Thermometer& thermometer;
};
// References into `instruments`. A Problem for a code that is not known.
[[nodiscard]] Result<BenchInstruments> bench_instruments(const CoilReadings& readings,
                                                         const Instruments& instruments);

// The first reading, or pair of readings, that cannot be weighed up, with its field and what would
// be accepted, in these units; nothing if all can.
[[nodiscard]] std::optional<Problem> first_refusal(const CoilReadings& readings,
                                                   const BenchInstruments& instruments,
                                                   const Units& units);

}  // namespace coilbook
