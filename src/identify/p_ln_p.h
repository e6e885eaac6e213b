// Σ p ln p over many probabilities or densities side by side: what entropies are made of, and what
// takes most of the time of foretelling what a reading tells.
//
// In a file of its own, since it is compiled so that the machine takes several logarithms at a time
// from the C library's own vectors of them (libmvec; each is right to 4 units in the last place).
#pragma once

#include <span>

namespace coilbook {

// 0 ln 0 counts as 0. The order of the additions depends on the machine, and so do the last digits.
// REQUIRES: none is negative, infinite or not a number.
[[nodiscard]] double sum_of_p_ln_p(std::span<const double> p);

}  // namespace coilbook
