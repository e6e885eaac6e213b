// One bell upon many normals side by side: the innermost loop of identification.
//
// In a file of its own, since it is compiled twice: for every machine, and for those that take four
// numbers at a time (AVX2). Both do the same operations in the same order, without fusing any, and
// so give the same digits.
#pragma once

#include <span>

namespace coilbook {

// The likelihood exp(ln_share − ½ |R θ − b|²), R upper triangular.
struct OneBell {
    double r00, r01, r11;
    double b0, b1;
    double ln_share;
};

// Normals over θ, one entry each, with ln of what each counts for.
struct NormalRow {
    std::span<const double> mean_x, mean_y, var_x, cov_xy, var_y, ln_share;
};

// For each normal, with d = b − R μ and V = I + R Σ Rᵀ: ln of both shares times exp(−½ d·V⁻¹d), and
// |V|, of which the integral still wants the inverse root. REQUIRES: all of one size.
void weigh(const OneBell& bell, const NormalRow& normals, std::span<double> ln_weight,
           std::span<double> determinant);

}  // namespace coilbook
