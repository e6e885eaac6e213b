// Gauss–Legendre quadrature: ∫ f from −1 to 1 ≈ Σ w_i f(t_i), exact up to degree 2 n − 1.
//
// Nodes are the zeros of Legendre's polynomial (Boost.Math), weights 2 / ((1 − t²) P'_n(t)²)
// (Abramowitz and Stegun 25.4.29, from memory; checked in gauss_legendre_test.cpp).
#pragma once

#include <vector>

namespace coilbook {

struct LegendreNode {
    double at;
    double weight;
};
// The rule of `count` nodes, 1 to 64, from the smallest node up; made once.
[[nodiscard]] const std::vector<LegendreNode>& gauss_legendre(int count);

}  // namespace coilbook
