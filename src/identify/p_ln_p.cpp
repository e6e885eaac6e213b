// Compiled with -ffast-math (CMakeLists.txt). Nothing else should stand here: that option is for
// numbers that are finite, and for nobody who relies on the order of additions.
#include "identify/p_ln_p.h"

#include <cmath>
#include <cstddef>

namespace coilbook {
namespace {

constexpr double nothing = 1e-300;  // instead of zero, where a logarithm is taken

[[gnu::always_inline]] inline double sum_over(const double* p, std::size_t count) {
    double sum = 0.0;
    for (std::size_t i = 0; i < count; ++i) sum += p[i] * std::log(p[i] > nothing ? p[i] : nothing);
    return sum;
}

#if defined(__x86_64__)
[[gnu::target("avx2,fma")]] double sum_four_at_a_time(const double* p, std::size_t count) {
    return sum_over(p, count);
}
const bool has_four_at_a_time =
    __builtin_cpu_supports("avx2") != 0 && __builtin_cpu_supports("fma") != 0;
#endif

}  // namespace

double sum_of_p_ln_p(std::span<const double> p) {
#if defined(__x86_64__)
    if (has_four_at_a_time) return sum_four_at_a_time(p.data(), p.size());
#endif
    return sum_over(p.data(), p.size());
}

}  // namespace coilbook
