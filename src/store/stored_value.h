// A reading's value as the catalogue keeps it: a number in SI with its stated uncertainty, or a
// word.
#pragma once

#include <optional>
#include <string>

#include "catalog/readings.h"

namespace coilbook::store {

struct StoredValue {
    std::optional<double> value_si;                 // kg, m, s or K, by the field
    std::optional<double> standard_uncertainty_si;  // as stated with it (k = 1)
    std::optional<std::string> value_text;          // of tint, taper and floats

    bool operator==(const StoredValue&) const = default;
};

// The number that a column in SI holds: kg, m, s, K, ...
template <int Kg, int M, int S>
[[nodiscard]] double si_of(Quantity<Kg, M, S> quantity) {
    return quantity.si();
}
[[nodiscard]] inline double si_of(Temperature temperature) {
    return temperature.kelvin();
}
[[nodiscard]] inline double si_of(TemperatureDifference difference) {
    return difference.kelvin();
}

[[nodiscard]] StoredValue stored(const ReadingValue& value);

}  // namespace coilbook::store
