// Identification: from the readings of one coil to a verdict.
//
//   readings + instruments -> evidence (evidence.h) -> posterior (posterior.h) -> facts, facets,
//   flags, the next reading (next_reading.h) and reasons (reasons.h), all gathered here.
#pragma once

#include "base/result.h"
#include "catalog/readings.h"
#include "catalog/reference_class.h"
#include "identify/verdict.h"
#include "line/water.h"
#include "metrology/instrument.h"

namespace coilbook {

// The verdict on one coil. `fished_in` is the water for the sink rate among the facts; readings
// taken under water use their own temperature (10 °C where none was read), fresh.
// Any subset of the readings will do: without any, the probabilities are the library's own weights.
// A Problem for readings that evidence_of() refuses.
// REQUIRES: `library` has exactly one class of family unlisted.
[[nodiscard]] Result<Verdict> identify(const CoilReadings& readings, const Instruments& instruments,
                                       const ReferenceLibrary& library, const Water& fished_in);

}  // namespace coilbook
