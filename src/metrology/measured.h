// A value and how sure of it: what every measured thing in the program is.
#pragma once

#include <cmath>

#include "quantity/parse.h"

namespace coilbook {

// `uncertainty` is a standard uncertainty: one standard deviation, k = 1. Never negative.
template <class Q>
struct Measured {
    Q value;
    typename DifferenceOf<Q>::type uncertainty;

    bool operator==(const Measured&) const = default;

    // The uncertainty as a part of the value. REQUIRES: value not zero, not a temperature.
    [[nodiscard]] double relative() const { return std::abs(uncertainty / value); }
};

// The standard uncertainty of a sum of independent parts: the root of the sum of squares
// (GUM, JCGM 100:2008, 5.1.2 with sensitivities of 1).
template <class Q, class... More>
[[nodiscard]] Q root_sum_square(Q first, More... more) {
    return Q::from_si(std::sqrt(((first.si() * first.si()) + ... + (more.si() * more.si()))));
}

}  // namespace coilbook
