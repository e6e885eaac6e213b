// Gauss–Hermite quadrature: integrals of a smooth function times exp(−t²).
//
// ∫ exp(−t²) f(t) dt ≈ Σ w_i f(t_i), exact for polynomials up to degree 2 N − 1. Nodes and weights
// are the eigenvalues and eigenvectors of the recurrence's tridiagonal matrix (Golub and Welsch,
// Math. Comp. 23 (1969) 221), found once with Eigen; Boost has no Hermite rule.
#pragma once

#include <Eigen/Eigenvalues>
#include <array>
#include <cmath>
#include <numbers>

namespace coilbook {

template <int N>
struct GaussHermite {
    std::array<double, N> nodes{};
    std::array<double, N> weights{};

    [[nodiscard]] static const GaussHermite& rule() {
        static const GaussHermite rule = make();
        return rule;
    }

  private:
    [[nodiscard]] static GaussHermite make() {
        Eigen::Matrix<double, N, N> recurrence = Eigen::Matrix<double, N, N>::Zero();
        for (int i = 1; i < N; ++i) {
            recurrence(i, i - 1) = recurrence(i - 1, i) = std::sqrt(0.5 * i);
        }
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, N, N>> solved(recurrence);
        GaussHermite rule;
        for (int i = 0; i < N; ++i) {
            const double first = solved.eigenvectors()(0, i);
            rule.nodes[static_cast<std::size_t>(i)] = solved.eigenvalues()(i);
            rule.weights[static_cast<std::size_t>(i)] = std::sqrt(std::numbers::pi) * first * first;
        }
        return rule;
    }
};

}  // namespace coilbook
