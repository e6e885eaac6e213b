// Where the uncertainty of a fact comes from: the budget of it by instrument, and the readings that
// the fact rests on.
//
// A fact of facts.h is a function of the readings. Each error moves one or several readings by one
// and the same amount (error_budget.h); what that does to the fact is found by moving the readings
// a little and looking again. The squares of these effects add up to the fact's variance, and the
// budget is each one's part in it. What is left is the drag law's. (GUM, JCGM 100:2008, 5.1.2 and
// H.1, with sensitivities by differences, 5.1.3 note 2.)
// Leaves out: rounding beyond its standard deviation. Contradictory readings widen all parts alike.
#pragma once

#include <string_view>
#include <vector>

#include "base/result.h"
#include "catalog/readings.h"
#include "line/water.h"
#include "metrology/instrument.h"

namespace coilbook {

// What is to blame for an error.
enum class ErrorOrigin {
    scale,
    tape,
    micrometer,
    soft_coating,  // squeezed by the micrometer
    stopwatch,
    thermometer,  // or the temperature that nobody read
    taper,        // a piece of a tapered coil is not the whole
    own_word,     // an uncertainty that somebody stated with a reading
    drag_law,
};

// The variance of a fact from one origin, as a part of the whole, 0 to 1.
struct BudgetPart {
    ErrorOrigin origin;
    double share = 0.0;
};

struct FactBudget {
    std::vector<BudgetPart> parts;       // that count for a thousandth or more, the largest first
    std::vector<ReadingField> rests_on;  // in the order of all_reading_fields
};

// Of each fact; one that the readings do not determine has an empty budget.
struct FactBudgets {
    FactBudget linear_density, diameter, density, sink_rate;
};

// With the sink rate in `fished_in`. A Problem where evidence_of gives one.
[[nodiscard]] Result<FactBudgets> budgets_of(const CoilReadings& readings,
                                             const Instruments& instruments,
                                             const Water& fished_in);

}  // namespace coilbook
