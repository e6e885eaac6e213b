// What shape the error of a coil's weight per foot and of its diameter has: how much of it is a
// rectangle.
//
// A scale that is right within a limit is as likely wrong by all of it as by nothing. Where such a
// rectangle rules, half of all errors lie within half of its width, that is 0.87 standard
// deviations and not the normal 0.67: an interval that is to hold what it promises must know. Class
// probabilities need only the likelihood; this is for intervals.h.
// Assumes that of several rectangles (calibration and rounding, of scale and tape) the widest is
// one and the others may pass as normal. Leaves out coils whose sample and whole were both weighed,
// where many errors mix to a nearly normal one. Where the errors come from: error_budget.h.
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

// All in logarithms: ln(gr/ft) or ln(mm).
struct ErrorShape {
    double reading;    // where the reading alone puts the quantity
    double rectangle;  // half width of the widest rectangle, above zero
    double normal_sd;  // of all the rest, above zero
};

struct ErrorShapes {
    std::optional<ErrorShape> weight_per_length;
    std::optional<ErrorShape> diameter;
};

// The shapes for a coil's readings; none where the error is normal for all purposes (a rectangle
// with less than a third of the variance), stated by the person, or of an unknown instrument.
[[nodiscard]] ErrorShapes error_shapes(const CoilReadings& readings,
                                       const Instruments& instruments);

// Adds to `parts` a distribution with `part`'s weight, mean and sd that has the shape: what the
// rectangle leaves of the normal distribution that everything but this reading amounts to. It is
// put together of narrow normal parts, at most 24; of one, where the reading hardly counts.
// The normal distribution of the rest is taken out of `part` by dividing densities, as in
// expectation propagation (Minka, Proc. UAI 2001, from memory).
void add_shaped(std::vector<NormalPart>& parts, const NormalPart& part,
                const std::optional<ErrorShape>& shape);

}  // namespace coilbook
