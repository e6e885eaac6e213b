// Which reading would tell most about what the person wants to know, and what it costs.
// How much a reading tells is the doubt about the answer that it is expected to take away
// (tidings.h). Assumes the sizes below for a reading yet to come, and that its errors are new ones:
// a longer piece on the same scale shares some with the first, and tells a little more than said.
#pragma once

#include <vector>

#include "catalog/readings.h"
#include "identify/evidence.h"
#include "identify/posterior.h"
#include "identify/verdict.h"
#include "quantity/unit_set.h"

namespace coilbook {

// What a further reading would be taken on (own assumptions).
inline constexpr Length next_short_sample = 24.0 * inch;
inline constexpr Length next_long_sample = 10.0 * foot;
inline constexpr Length next_drop = 24.0 * inch;
inline constexpr int next_diameters = 3;

// Readings expected to tell less than this are not worth naming.
inline constexpr double least_bits = 0.005;
// It is enough when no single further reading has so much of a chance to change the answer.
inline constexpr double unlikely_change = 0.01;

// How many of the readings a person wants to hear of.
enum class Advice {
    all,
    the_best,  // the first of all, for a fraction of the work
};

struct Outlook {
    // Those above least_bits: the most telling first, or the most telling per second.
    std::vector<ReadingAdvice> advice;
    bool enough;  // false with Advice::the_best, where it is not looked into
};
// The readings that could still be taken on the coil that `posterior` has taken up. `readings` must
// be that coil's.
[[nodiscard]] Outlook further_readings(const CoilReadings& readings, const Evidence& evidence,
                                       const Instruments& instruments,
                                       const PreparedLibrary& library, const Posterior& posterior,
                                       const Question& question, Advice wanted = Advice::all,
                                       const Units& units = grains_and_feet);

}  // namespace coilbook
