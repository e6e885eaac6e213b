// A crossed gauge study that everybody can check: ten parts, three appraisers, three trials.
#pragma once

#include <array>

namespace coilbook {

// Ten parts (rows), three appraisers (three columns each), three trials, as the industry's
// measurement-systems manual (4th ed.) has them and several public test suites repeat them.
inline constexpr std::array<std::array<double, 9>, 10> ten_parts{
    {{0.29, 0.41, 0.64, 0.08, 0.25, 0.07, 0.04, -0.11, -0.15},
     {-0.56, -0.68, -0.58, -0.47, -1.22, -0.68, -1.38, -1.13, -0.96},
     {1.34, 1.17, 1.27, 1.19, 0.94, 1.34, 0.88, 1.09, 0.67},
     {0.47, 0.5, 0.64, 0.01, 1.03, 0.2, 0.14, 0.2, 0.11},
     {-0.8, -0.92, -0.84, -0.56, -1.2, -1.28, -1.46, -1.07, -1.45},
     {0.02, -0.11, -0.21, -0.2, 0.22, 0.06, -0.29, -0.67, -0.49},
     {0.59, 0.75, 0.66, 0.47, 0.55, 0.83, 0.02, 0.01, 0.21},
     {-0.31, -0.2, -0.17, -0.63, 0.08, -0.34, -0.46, -0.56, -0.49},
     {2.26, 1.99, 2.01, 1.8, 2.12, 2.19, 1.77, 1.45, 1.87},
     {-1.36, -1.25, -1.31, -1.68, -1.62, -1.5, -1.49, -1.77, -2.16}}};

}  // namespace coilbook
