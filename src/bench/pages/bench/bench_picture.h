// The picture of the verdict: classes and the coil in hand by diameter and weight per foot.
#pragma once

#include <string>

#include "bench/line_picture.h"
#include "bench/widgets/plot.h"
#include "catalog/reference_class.h"
#include "identify/verdict.h"

namespace coilbook::bench::bench_page {

// A class is an ellipse that holds 86 % of its lines (two standard deviations), in the logarithms
// of both axes; so is the coil, where both its figures are determined; where only one is, it is a
// band. `unlisted` has no place in it.
// Named and drawn out are the contenders: classes of 3 % or more, or, where none is, the two that
// are nearest to the coil. Of the others those near the coil stand faintly behind, for orientation,
// and the rest is left out. The axes are drawn round the coil and the contenders.
// `before_learning` has each class's line as it was without its confirmed coils, or is empty: of a
// contender that has learned, that ellipse stands faintly behind the learned one.
[[nodiscard]] PlotView picture_of(const ReferenceLibrary& library, const Verdict& verdict,
                                  const std::string& coil_code,
                                  const std::vector<LineDistribution>& before_learning = {},
                                  const Units& units = grains_and_feet);

}  // namespace coilbook::bench::bench_page
