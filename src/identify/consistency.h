// Whether the readings can be trusted: contradictions, impossible lines, grains taken for grams.
//
// Nothing is mended here. A flag goes up, and a sentence says what would explain it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "identify/evidence.h"
#include "identify/facts.h"
#include "identify/posterior.h"
#include "identify/verdict.h"
#include "quantity/unit_set.h"

namespace coilbook {

// Diameters of a level coil that spread more than this contradict each other (own assumption).
inline constexpr double level_diameter_spread = 0.15;

// A sentence for each contradiction among the readings; empty if they agree.
[[nodiscard]] std::vector<std::string> contradictions(const CoilReadings& readings,
                                                      const Evidence& evidence, const Fit& fit);

// A sentence for each fact that no fishing line has, beyond twice its uncertainty. Limits: 0.4 to
// 40 gr/ft, 0.5 to 7 g/cm3, 0.2 to 3 mm (the densest coatings hold to about 5 g/cm3: common
// practice, no published source; the rest is our own margin around T-20 and the thinnest leaders).
[[nodiscard]] std::vector<std::string> implausibilities(const Facts& facts,
                                                        const Units& units = grains_and_feet);

// How often a weight is noted in the wrong unit (own assumption).
inline constexpr double mixup_rate = 0.01;

// The likeliest mix-up if mix-ups are more probable than not, by how well the library explains the
// readings as noted and with weights scaled by 15.43 or its inverse; a mix-up that would leave the
// readings contradicting each other, or an implausible line, explains nothing. `ln_likelihood` is
// what Posterior::take_up() gave for the readings as noted; `posterior` may be any, to work with.
// REQUIRES: evidence_of() accepts the readings.
[[nodiscard]] std::optional<UnitMixup> unit_mixup(const CoilReadings& readings,
                                                  const Instruments& instruments,
                                                  double ln_likelihood, Posterior& posterior);

// The weights among the readings that it concerns.
[[nodiscard]] std::vector<ReadingField> mixed_up_fields(const CoilReadings& readings,
                                                        const UnitMixup& mixup);

// The readings as they would be without that mix-up.
[[nodiscard]] CoilReadings as_meant(const CoilReadings& readings, const UnitMixup& mixup);

}  // namespace coilbook
