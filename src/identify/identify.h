// Identification: from the readings of one coil to a verdict.
//
//   readings + instruments -> evidence (evidence.h) -> posterior (posterior.h) -> facts, facets,
//   flags, the next reading (next_reading.h) and reasons (reasons.h), all gathered here.
#pragma once

#include <cstdint>

#include "base/result.h"
#include "catalog/readings.h"
#include "catalog/reference_class.h"
#include "identify/next_reading.h"
#include "identify/posterior.h"
#include "identify/prepared_library.h"
#include "identify/verdict.h"
#include "line/water.h"
#include "metrology/instrument.h"
#include "quantity/unit_set.h"

namespace coilbook {

// What a verdict is asked for beside the readings.
struct Inquiry {
    Water fished_in = fresh_water_at_10_C();  // for the sink rate among the facts
    Question question{};                      // for the next reading
    Advice advice = Advice::all;              // how many of them
    bool in_words = true;                     // with the reasons
    // How many classes are ranked, 1 or more; the reasons tell of no others.
    std::size_t ranked = SIZE_MAX;
    Units units = grains_and_feet;  // that its words have numbers in
};

// A Problem for a library that has no class of family unlisted, as a damaged catalogue's may: what
// a coil is not cannot be weighed then, and so nothing can be said of any.
[[nodiscard]] Result<void> check_library(const PreparedLibrary& library);

// Identifies coil after coil with one library and one bench of instruments. Not to be shared by
// threads; give each its own.
class Identifier {
  public:
    // Both must outlive this.
    Identifier(const PreparedLibrary& library, const Instruments& instruments);

    // The verdict on one coil. Readings taken under water use their own temperature (10 °C where
    // none was read), fresh. Any subset of the readings will do: without any, the probabilities are
    // the library's own weights.
    // A Problem for readings that evidence_of() refuses, and for a library that check_library()
    // does.
    [[nodiscard]] Result<Verdict> verdict_on(const CoilReadings& readings, const Inquiry& inquiry);
    // The same into a verdict that is used again, so that its memory is. After a Problem it is of
    // no use.
    [[nodiscard]] Result<void> give_verdict(const CoilReadings& readings, const Inquiry& inquiry,
                                            Verdict& verdict);

  private:
    const PreparedLibrary& library_;
    const Instruments& instruments_;
    Posterior posterior_;
    Posterior as_meant_;  // for weights in another unit
};

// The same for a single coil.
[[nodiscard]] Result<Verdict> identify(const CoilReadings& readings, const Instruments& instruments,
                                       const ReferenceLibrary& library, const Water& fished_in);

}  // namespace coilbook
