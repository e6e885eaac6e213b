// From the verdict of the engine on the coil in hand to what the page shows of it. Pure, as all of
// bench_model.h, of which it is a part.
#pragma once

#include <optional>

#include "bench/pages/bench/bench_form.h"
#include "bench/pages/bench/bench_model.h"
#include "bench/pages/bench/bench_view.h"

namespace coilbook::bench::bench_page {

// The field of the reading that would help most: of a pair that says nothing alone, the first one
// that is missing. Nothing if the coil is confirmed or what was read is enough.
[[nodiscard]] std::optional<ReadingField> wanted_field(const Situation& situation,
                                                       const CoilInHand& coil);

[[nodiscard]] VerdictView verdict_view(const Form& form, const Situation& situation,
                                       const CoilInHand& coil);

}  // namespace coilbook::bench::bench_page
