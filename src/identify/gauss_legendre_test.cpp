#include "identify/gauss_legendre.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/near.h"

using namespace coilbook;

TEST_SUITE("Gauss-Legendre quadrature") {
    // Source: Abramowitz and Stegun, table 25.4, n = 2 and 3 (from memory; exact: ±1/√3 with weight
    // 1; 0 and ±√(3/5) with weights 8/9 and 5/9).
    TEST_CASE("the rules of two and three nodes are the handbook's") {
        const auto& two = gauss_legendre(2);
        CHECK(near(two[0].at, -1.0 / std::sqrt(3.0), 1e-14));
        CHECK(near(two[1].weight, 1.0, 1e-14));
        const auto& three = gauss_legendre(3);
        CHECK(near(three[2].at, std::sqrt(0.6), 1e-14));
        CHECK(near(three[1].weight, 8.0 / 9.0, 1e-14));
        CHECK(near(three[0].weight, 5.0 / 9.0, 1e-14));
    }

    TEST_CASE("every rule integrates even powers exactly, up to degree 2 n - 1") {
        for (int n = 1; n <= 64; ++n) {
            CAPTURE(n);
            for (int power = 0; power <= std::min(2 * n - 1, 20); power += 2) {
                double sum = 0.0;
                for (const auto& [at, weight] : gauss_legendre(n)) {
                    sum += weight * std::pow(at, power);
                }
                CHECK(near(sum, 2.0 / (power + 1), 1e-12));
            }
        }
    }
}
