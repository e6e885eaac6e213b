// Writing quantities for people: as many figures as are meant, and always the unit.
//
// A standard uncertainty is given with two figures and its value to the same decimal place
// (GUM, JCGM 100:2008, 7.2.6); it is one standard deviation, k = 1.
#pragma once

#include <string>
#include <string_view>

#include "quantity/quantity.h"

namespace coilbook {

// The units in which the trade reads its numbers, each with its short name.
template <class Q>
struct NamedUnit {
    std::string_view name;
    Q size;
};

// "11.20 ± 0.07" from 11.2034 and 0.0712; without an uncertainty (0 or not finite) four figures.
[[nodiscard]] std::string with_uncertainty(double value, double uncertainty);

// `value` with `figures` significant figures and no exponent: (0.94321, 3) is "0.943".
[[nodiscard]] std::string significant(double value, int figures);

// The shortest text that reads back as exactly the same number; what CSV and JSON carry.
[[nodiscard]] std::string exact(double value);

// "22.4 gr": a value in a named unit, with `figures` significant figures.
template <class Q>
[[nodiscard]] std::string in_unit(Q value, NamedUnit<Q> unit, int figures = 4) {
    return significant(value.in(unit.size), figures) + " " + std::string(unit.name);
}

// "11.20 ± 0.07 gr/ft".
template <class Q>
[[nodiscard]] std::string in_unit_with_uncertainty(Q value, Q uncertainty, NamedUnit<Q> unit) {
    return with_uncertainty(value.in(unit.size), uncertainty.in(unit.size)) + " " +
           std::string(unit.name);
}

}  // namespace coilbook
