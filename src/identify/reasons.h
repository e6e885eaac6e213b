// The verdict in words, for a tired person: what was measured, what it means, why, and what next.
#pragma once

#include <string>
#include <vector>

#include "identify/consistency.h"
#include "identify/verdict.h"
#include "quantity/unit_set.h"

namespace coilbook {

// Sentences, the most important first. `verdict` must be complete but for its reasons; `warnings`
// are sentences about contradictions and implausible facts.
[[nodiscard]] std::vector<std::string> reasons(const CoilReadings& readings,
                                               const ReferenceLibrary& library,
                                               const Verdict& verdict,
                                               const std::vector<std::string>& warnings,
                                               const Units& units = grains_and_feet);

}  // namespace coilbook
