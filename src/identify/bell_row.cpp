#include "identify/bell_row.h"

#include <cassert>
#include <cstddef>

namespace coilbook {
namespace {

[[gnu::always_inline]] inline void weigh_all(const OneBell& bell, const NormalRow& normals,
                                             std::span<double> ln_weights,
                                             std::span<double> determinants) {
    const auto [r00, r01, r11, b0, b1, ln_share] = bell;
    const std::size_t count = ln_weights.size();
    const double* mean_x = normals.mean_x.data();
    const double* mean_y = normals.mean_y.data();
    const double* var_x = normals.var_x.data();
    const double* cov_xy = normals.cov_xy.data();
    const double* var_y = normals.var_y.data();
    const double* ln_shares = normals.ln_share.data();
    double* ln_weight = ln_weights.data();
    double* determinant = determinants.data();
// What is written is nowhere read: the compiler need not look into it, and gives up otherwise.
#pragma GCC ivdep
    for (std::size_t i = 0; i < count; ++i) {
        const double d0 = b0 - r00 * mean_x[i] - r01 * mean_y[i];
        const double d1 = b1 - r11 * mean_y[i];
        const double v11 = 1.0 + r11 * r11 * var_y[i];
        const double v01 = r11 * (r00 * cov_xy[i] + r01 * var_y[i]);
        const double v00 =
            1.0 + r00 * r00 * var_x[i] + 2.0 * r00 * r01 * cov_xy[i] + r01 * r01 * var_y[i];
        const double det = v00 * v11 - v01 * v01;
        const double q = (v11 * d0 * d0 - 2.0 * v01 * d0 * d1 + v00 * d1 * d1) / det;
        determinant[i] = det;
        ln_weight[i] = ln_shares[i] + ln_share - 0.5 * q;
    }
}

#if defined(__x86_64__)
[[gnu::target("avx2")]] void weigh_four_at_a_time(const OneBell& bell, const NormalRow& normals,
                                                  std::span<double> ln_weight,
                                                  std::span<double> determinant) {
    weigh_all(bell, normals, ln_weight, determinant);
}
const bool has_four_at_a_time = __builtin_cpu_supports("avx2") != 0;
#endif

}  // namespace

void weigh(const OneBell& bell, const NormalRow& normals, std::span<double> ln_weight,
           std::span<double> determinant) {
    assert(ln_weight.size() == normals.mean_x.size() && determinant.size() == ln_weight.size());
#if defined(__x86_64__)
    if (has_four_at_a_time) return weigh_four_at_a_time(bell, normals, ln_weight, determinant);
#endif
    weigh_all(bell, normals, ln_weight, determinant);
}

}  // namespace coilbook
