#include "line/drag.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace coilbook {

// C_D = 11 Re^-0.75 + 0.9 (1 − e^(−1000/Re)) + 1.2 (1 − e^(−(Re/4500)^0.7)).
// The derivative of each term with respect to ln Re stands below the term.
Drag cylinder_drag(double reynolds) {
    assert(reynolds > 0.0);
    const double friction = 11.0 * std::pow(reynolds, -0.75);
    const double friction_rise = -0.75 * friction;

    const double u = 1000.0 / reynolds;
    const double laminar_wake = -0.9 * std::expm1(-u);
    const double laminar_wake_rise = -0.9 * u * std::exp(-u);

    const double w = std::pow(reynolds / 4500.0, 0.7);
    const double turbulent_wake = -1.2 * std::expm1(-w);
    const double turbulent_wake_rise = 1.2 * 0.7 * w * std::exp(-w);

    const double coefficient = friction + laminar_wake + turbulent_wake;
    return {.coefficient = coefficient,
            .slope = (friction_rise + laminar_wake_rise + turbulent_wake_rise) / coefficient};
}

double drag_relative_uncertainty(double reynolds) {
    assert(reynolds >= 0.0);
    constexpr double slow = 20.0;
    constexpr double fast = 400.0;
    const double way = std::log(std::clamp(reynolds, slow, fast) / slow) / std::log(fast / slow);
    return std::lerp(drag_uncertainty_of_slow_lines, drag_uncertainty_of_fast_lines, way);
}

}  // namespace coilbook
