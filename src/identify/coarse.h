// Rectangles that may not pass for bells.
//
// A kitchen scale that steps by a gram says of a 16 gr piece only that it weighs 7.7 to 23.1 gr,
// all alike. Taken as a bell of the same standard deviation, that would favour the middle and allow
// the impossible. So an error whose rectangle is wide beside the spread of lines of one name is
// kept as what it is: its integral is done by Gauss–Legendre quadrature, in the readings
// themselves, where the rectangle has straight sides.
#pragma once

#include <cstdint>
#include <vector>

#include "identify/error_budget.h"

namespace coilbook {

// A rectangle passes for a bell while its standard deviation moves every row by less than this. It
// is a third of the spread of the narrowest lines of one name (some 2 %): the sum of such a
// rectangle and such a bell has an excess kurtosis of −0.012 instead of 0.
inline constexpr double passes_for_a_bell = 0.007;
inline constexpr double narrowest_line_spread = 0.02;
// At most so many possibilities for one coil; beyond, the narrowest rectangles are taken as bells
// after all, since the others then drown their corners.
inline constexpr std::size_t most_nodes = 4096;

// Which sources have a rectangle that counts, as bits by index; 0 for ordinary instruments.
[[nodiscard]] std::uint32_t coarse_sources(const StraightReadings& straight,
                                           const Eigen::Matrix<double, 4, 6>& derivatives);

// `coarse` without the source whose rectangle moves the rows least. REQUIRES: coarse is not 0.
[[nodiscard]] std::uint32_t without_the_narrowest(std::uint32_t coarse,
                                                  const StraightReadings& straight,
                                                  const Eigen::Matrix<double, 4, 6>& derivatives);

// One of the possibilities that the coarse errors leave: errors to take off the readings, and the
// logarithm of its share. The shares sum to 1.
struct Possibility {
    ReadVector errors;
    double ln_share;
};
// `row_sd`: standard deviations of the rows without the coarse rectangles. Empty if there would be
// more than most_nodes.
[[nodiscard]] std::vector<Possibility> possibilities(const StraightReadings& straight,
                                                     const Eigen::Matrix<double, 4, 6>& derivatives,
                                                     const RowVector4& row_sd,
                                                     std::uint32_t coarse);

}  // namespace coilbook
