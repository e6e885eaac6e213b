// Which unit a bare number has in the field of a reading, by the set of units that is chosen.
//
// What is kept says its unit itself ("22.4 gr"), so changing the set changes no reading. Assumes
// that fields without a unit (tint, taper, floats) take words.
#pragma once

#include <string_view>

#include "catalog/readings.h"
#include "quantity/unit_set.h"

namespace coilbook {

// "gr" or "g", "in" or "cm"; "mm", "s" and "C" in either; empty for fields without one. A
// NumberStyle takes it as its column's unit. For grains and feet it is usual_unit().
[[nodiscard]] constexpr std::string_view unit_of(ReadingField field, const Units& units) {
    switch (field) {
        case ReadingField::sample_length:
        case ReadingField::sink_distance:
            return units.piece.name;
        case ReadingField::whole_length:
            return units.length.name;
        case ReadingField::sample_weight:
        case ReadingField::submerged_weight:
        case ReadingField::whole_weight:
            return units.weight.name;
        case ReadingField::diameters:
            return units.diameter.name;
        case ReadingField::sink_time:
            return "s";
        case ReadingField::water_temperature:
            return "C";
        case ReadingField::tint:
        case ReadingField::taper:
        case ReadingField::floats:
            break;
    }
    return {};
}

}  // namespace coilbook
