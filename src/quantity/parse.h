// Reading what people write for a quantity: "22.4 gr", "12' 3\"", "1 1/2 in", "37 thou", "50 F".
//
// A number and a unit, with or without a blank; feet and inches may stand together; inches may be
// fractions, as a tape has them. A quantity may carry its own standard uncertainty (k = 1), with
// its unit or without: "22.4 gr +- 0.2 gr", "22.4 ± 0.2 gr". A bare number takes the unit of its
// column, or is refused. Nothing is guessed: 'g' is gram and 'gr' is grain, always.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "quantity/quantity.h"
#include "quantity/temperature.h"

namespace coilbook {

// What a difference of two values of Q is: for temperatures another type, else Q itself.
template <class Q>
struct DifferenceOf {
    using type = Q;
};
template <>
struct DifferenceOf<Temperature> {
    using type = TemperatureDifference;
};

// A quantity as somebody stated it, with the standard uncertainty that they gave, if any.
template <class Q>
struct Stated {
    Q value;
    std::optional<typename DifferenceOf<Q>::type> uncertainty;

    bool operator==(const Stated&) const = default;
};

// How numbers are written in the text at hand.
struct NumberStyle {
    char decimal_mark = '.';       // ',' only in files whose separator is ';'
    std::string_view column_unit;  // unit of a bare number, such as "gr"; empty: none
};

// The quantities that people write. Each returns a Problem (field empty) for anything else than a
// finite number with a known unit of the right kind, saying which units would be accepted.
// Signs are not judged here: a temperature may be negative, a weight may not (catalog/readings.h).
[[nodiscard]] Result<Stated<Mass>> parse_mass(std::string_view text, NumberStyle style = {});
[[nodiscard]] Result<Stated<Length>> parse_length(std::string_view text, NumberStyle style = {});
[[nodiscard]] Result<Stated<Duration>> parse_duration(std::string_view text,
                                                      NumberStyle style = {});
[[nodiscard]] Result<Stated<Speed>> parse_speed(std::string_view text, NumberStyle style = {});
[[nodiscard]] Result<Stated<Density>> parse_density(std::string_view text, NumberStyle style = {});
[[nodiscard]] Result<Stated<LinearDensity>> parse_linear_density(std::string_view text,
                                                                 NumberStyle style = {});
[[nodiscard]] Result<Stated<Temperature>> parse_temperature(std::string_view text,
                                                            NumberStyle style = {});
// A span of temperature, such as a thermometer's limit of error: "0.5 C" is half a kelvin.
[[nodiscard]] Result<TemperatureDifference> parse_temperature_difference(std::string_view text,
                                                                         NumberStyle style = {});

// Several lengths separated by blanks or '|': "0.94 mm | 0.95 mm", "0.94 0.95 mm". A number without
// a unit takes the column's, or where there is none the last unit written in the cell.
[[nodiscard]] Result<std::vector<Stated<Length>>> parse_lengths(std::string_view text,
                                                                NumberStyle style = {});

// A plain finite number, such as a probability; the whole text must be the number.
[[nodiscard]] Result<double> parse_number(std::string_view text, char decimal_mark = '.');

}  // namespace coilbook
