// What shape the errors of a coil's weight per foot, diameter and density have: how much of each is
// rectangular.
//
// A scale that is right within a limit is as likely wrong by all of it as by nothing. Where such a
// rectangle rules, half of all errors lie within half of its width, that is 0.87 standard
// deviations and not the normal 0.67: an interval that is to hold what it promises must know. Class
// probabilities need only the likelihood; this is for intervals.h.
// Assumes that of several rectangles (calibration and rounding, of scale and tape) the two widest
// count and the others may pass as normal. Where the errors come from: error_budget.h.
#pragma once

#include <optional>
#include <vector>

#include "catalog/readings.h"
#include "metrology/instrument.h"

namespace coilbook {

// One part of a mixture of normal distributions, in whatever unit the mixture has.
struct NormalPart {
    double weight;
    double mean;
    double sd;  // above zero
};

// All in logarithms: ln(gr/ft), ln(mm) or ln(g/cm3).
struct ErrorShape {
    double reading;    // where the readings alone put the quantity
    double wide;       // half width of the widest rectangle, above zero
    double narrow;     // of the second, 0 up to `wide`
    double normal_sd;  // of all the rest, above zero

    [[nodiscard]] double variance() const;
};

struct ErrorShapes {
    std::optional<ErrorShape> weight_per_length;  // by the better of sample and whole
    std::optional<ErrorShape> diameter;
    std::optional<ErrorShape> density;  // by weighing under water
};

// The shapes for a coil's readings; none where the error is nearly normal, with an excess kurtosis
// above −0.13 (a rectangle with a third of the variance), stated by the person, or of an unknown
// instrument.
[[nodiscard]] ErrorShapes error_shapes(const CoilReadings& readings,
                                       const Instruments& instruments);

// Adds to `parts` a distribution with `part`'s weight, mean and sd that has the shape: what the
// rectangles leave of the normal distribution that everything but this reading amounts to. It is
// put together of narrow normal parts, at most 24; of one, where the reading hardly counts.
// The normal distribution of the rest is taken out of `part` by dividing densities, as in
// expectation propagation (Minka, Proc. UAI 2001, from memory).
void add_shaped(std::vector<NormalPart>& parts, const NormalPart& part,
                const std::optional<ErrorShape>& shape);

}  // namespace coilbook
