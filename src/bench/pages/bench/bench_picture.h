// The picture of the verdict: classes and the coil in hand by diameter and weight per foot.
#pragma once

#include <string>

#include "bench/widgets/plot.h"
#include "catalog/reference_class.h"
#include "identify/verdict.h"

namespace coilbook::bench::bench_page {

// A class is an ellipse that holds 86 % of its lines (two standard deviations), in the logarithms
// of both axes; so is the coil, where both its figures are determined; where only one is, it is a
// band. Drawn round the coil if it is known, otherwise round all classes. `unlisted` has no place
// in it.
[[nodiscard]] PlotView picture_of(const ReferenceLibrary& library, const Verdict& verdict,
                                  const std::string& coil_code);

// The series that a family is drawn in, and its mark.
struct FamilySign {
    std::size_t series;
    Mark mark;
};
[[nodiscard]] FamilySign sign_of(const ReferenceClass& reference);

}  // namespace coilbook::bench::bench_page
