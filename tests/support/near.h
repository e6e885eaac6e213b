// Comparing quantities in tests, with a tolerance that has a unit.
//
// doctest::Approx must not be used on SI values: below 1 its tolerance is absolute, so that 0.500
// mm and 0.510 mm in metres would be equal.
#pragma once

#include <cmath>
#include <ostream>

#include "quantity/quantity.h"

namespace coilbook {

template <int Kg, int M, int S>
[[nodiscard]] bool near(Quantity<Kg, M, S> actual, Quantity<Kg, M, S> expected,
                        Quantity<Kg, M, S> within) {
    return std::abs(actual.si() - expected.si()) <= within.si();
}

// For pure numbers, with an absolute tolerance that is always said.
[[nodiscard]] inline bool near(double actual, double expected, double within) {
    return std::abs(actual - expected) <= within;
}

// doctest shows the SI number when a check fails.
template <int Kg, int M, int S>
std::ostream& operator<<(std::ostream& out, Quantity<Kg, M, S> quantity) {
    return out << quantity.si() << " (SI)";
}

}  // namespace coilbook
