// What each number of the window is, in two or three finished sentences: what it is and in which
// unit, how it is found, and where that is from. The help on every number (widgets/number_help.h)
// shows them; whoever asks about a number in a log or a book finds them here in one place.
//
// Assumes that figures with ± carry one standard deviation (k = 1). Leaves out the readings behind
// a figure, which the page of one coil shows.
#pragma once

#include <string>

#include "catalog/readings.h"
#include "quantity/unit_set.h"

namespace coilbook::bench {

enum class Number {
    // of one coil
    weight_per_length,
    diameter,
    density,
    sink_rate,
    sink_by_water,
    certainty,
    probability,
    grain_class,
    density_grade,
    line_size,
    family,
    cost_of_reading,
    budget_share,
    // of the bin
    coils_in_state,
    pace,
    group,
    belongs_to_group,
    // of the library
    class_weight,
    class_density,
    class_diameter,
    class_rate,
    confirmed_coils,
    set_aside_coils,
    score,
    // of instruments
    reads_too_much,
    scatter,
    resolution,
    checked,
    mean_of_readings,
    off_standard,
    readings_of_study,
    spread_of_person,
    spread_of_people,
    spread_of_people_by_coil,
    spread_of_coils,
    judgement_of_study,
    // of the outfit
    in_the_bin,
    with_boats,
    lent,
    damaged,
    lost,
    in_all,
    promised,
    missing,
    losses,
    packed,
    tip_fit,
};
inline constexpr int numbers = static_cast<int>(Number::tip_fit) + 1;

// Never empty; whole sentences.
[[nodiscard]] std::string help_on(Number number, const Units& units);
// How the reading of that field is taken, and what it is for.
[[nodiscard]] std::string help_on(ReadingField field, const Units& units);

}  // namespace coilbook::bench
