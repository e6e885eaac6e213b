// Which classes are the same line in the water, whatever their names.
//
// What a level line does in the water depends on its weight per foot and its diameter alone. Where
// two classes overlap in these, they fish alike.
#pragma once

#include <cstddef>
#include <vector>

#include "catalog/reference_class.h"

namespace coilbook {

// How much two distributions overlap: the Bhattacharyya coefficient ∫ √(p q), from 0 (apart) to 1
// (the same). For normal ones exp(−⅛ Δᵀ Σ⁻¹ Δ) √(√(|Σ1| |Σ2|) / |Σ|), Σ = ½ (Σ1 + Σ2).
// Source: Bhattacharyya 1943; Kailath, IEEE Trans. Comm. Tech. 15 (1967) 52 (from memory).
[[nodiscard]] double overlap(const LineDistribution& one, const LineDistribution& other);

// How far apart two lines are: √(Δᵀ (Σ1 + Σ2)⁻¹ Δ), in standard deviations of both together
// (Mahalanobis 1936; from memory). 0 for the same middle.
[[nodiscard]] double distance(const LineDistribution& one, const LineDistribution& other);

// From this overlap on, two classes are said to fish alike: their means then lie within two of
// their standard deviations, or rates of sinking within about a tenth.
inline constexpr double alike_from = 0.6;

// The other classes that fish like `index`, in the library's order; never `unlisted`, which is no
// line but the lack of one. Empty for `unlisted` itself.
[[nodiscard]] std::vector<std::size_t> fishing_like(std::size_t index,
                                                    const ReferenceLibrary& library);

}  // namespace coilbook
