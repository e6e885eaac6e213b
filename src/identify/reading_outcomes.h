// What a reading that was not taken yet would be, under each class that is still in the race: what
// next_reading.h compares. Assumes the sizes that stand there for a reading yet to come. A measured
// one is taken to be straight in θ near each class, and so normal (GUM 5.1.2).
#pragma once

#include "catalog/readings.h"
#include "identify/evidence.h"
#include "identify/gaussian2.h"
#include "identify/prepared_library.h"
#include "identify/refusals.h"
#include "identify/tidings.h"

namespace coilbook {

// A class that still counts, with its share of the probability of all such.
struct Contender {
    std::size_t index;
    double share;
    std::size_t answer;  // to the question, numbered from 0 without gaps
    Gaussian2 line;
};

// The coil that is asked about, and what is there to read it with.
struct Bench {
    const CoilReadings& readings;
    const Evidence& evidence;
    BenchInstruments instruments;
    const PreparedLibrary& library;
    Few<Contender> contenders;
};

// Measured readings. REQUIRES for the submerged one: the sample was weighed.
[[nodiscard]] Few<NormalOutcome> short_sample_outcomes(const Bench& bench);
[[nodiscard]] Few<NormalOutcome> long_sample_outcomes(const Bench& bench);
[[nodiscard]] Few<NormalOutcome> diameter_outcomes(const Bench& bench);
[[nodiscard]] Few<NormalOutcome> submerged_outcomes(const Bench& bench);
[[nodiscard]] Few<NormalOutcome> drop_outcomes(const Bench& bench);

// Readings with few results, and what they tell.
[[nodiscard]] Tidings tint_tidings(const Bench& bench);
[[nodiscard]] Tidings taper_tidings(const Bench& bench);
[[nodiscard]] Tidings floats_tidings(const Bench& bench);
[[nodiscard]] Tidings whole_length_tidings(const Bench& bench);
// Bits that the whole length cannot exceed, for a fraction of the work.
[[nodiscard]] double most_bits_of_whole_length(const Bench& bench);

}  // namespace coilbook
