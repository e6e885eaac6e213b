// The units that a person reads in and types in: grains and feet, or grams and metres.
//
// One of the two counts for everything that is shown, and for bare numbers that are typed; a unit
// that is typed always wins. Grains and feet is the trade's own mixture: gr, ft, gr/ft, in/s, and
// inches for a piece, but millimetres for a diameter, °C for water and g/cm³ for a density, as
// micrometers, thermometers and the drag laws have them. Grams and metres is g, m, g/m, cm/s, and
// cm for a piece; the other three are the same. Names stay what they are in either: a grain class
// (T-8) and a density grade (type 3) are names. Leaves out: a mixture of one's own, and °F.
#pragma once

#include <string_view>

#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook {

struct Units {
    std::string_view name;  // "grains and feet"; as it is remembered
    NamedUnit<Mass> weight;
    NamedUnit<Length> piece;     // of a piece that is weighed, and of the water of a drop
    NamedUnit<Length> length;    // of a whole coil
    NamedUnit<Length> diameter;  // the same in both sets, as the next
    NamedUnit<Density> density;
    NamedUnit<LinearDensity> weight_per_length;
    NamedUnit<Speed> sink_rate;
    std::string_view weight_per_length_name;  // "Weight per foot"
    int weight_per_length_decimals = 1;       // in lists
    bool is_metric = false;

    // For sentences that do not differ by a number alone.
    [[nodiscard]] constexpr std::string_view of(std::string_view in_feet,
                                                std::string_view in_metres) const {
        return is_metric ? in_metres : in_feet;
    }
    constexpr bool operator==(const Units& other) const { return is_metric == other.is_metric; }
};

inline constexpr Units grains_and_feet{.name = "grains and feet",
                                       .weight = {"gr", grain},
                                       .piece = {"in", inch},
                                       .length = {"ft", foot},
                                       .diameter = {"mm", millimetre},
                                       .density = {"g/cm³", gram_per_cubic_centimetre},
                                       .weight_per_length = {"gr/ft", grain_per_foot},
                                       .sink_rate = {"in/s", inch_per_second},
                                       .weight_per_length_name = "Weight per foot",
                                       .weight_per_length_decimals = 1,
                                       .is_metric = false};
inline constexpr Units grams_and_metres{.name = "grams and metres",
                                        .weight = {"g", gram},
                                        .piece = {"cm", centimetre},
                                        .length = {"m", metre},
                                        .diameter = {"mm", millimetre},
                                        .density = {"g/cm³", gram_per_cubic_centimetre},
                                        .weight_per_length = {"g/m", gram_per_metre},
                                        .sink_rate = {"cm/s", centimetre / second},
                                        .weight_per_length_name = "Weight per metre",
                                        .weight_per_length_decimals = 2,
                                        .is_metric = true};

// The other one of the two.
[[nodiscard]] constexpr const Units& other_than(const Units& units) {
    return units.is_metric ? grains_and_feet : grams_and_metres;
}
// The one of that name; grains and feet for any other word.
[[nodiscard]] constexpr const Units& units_named(std::string_view name) {
    return name == grams_and_metres.name ? grams_and_metres : grains_and_feet;
}

// The number that is shown of a quantity, without its unit: "11.20 ± 0.07", "11.2".
template <class Q>
[[nodiscard]] std::string number_with_uncertainty(Q value, Q uncertainty, NamedUnit<Q> unit) {
    return with_uncertainty(value.in(unit.size), uncertainty.in(unit.size));
}
template <class Q>
[[nodiscard]] std::string number_in(Q value, NamedUnit<Q> unit, int figures) {
    return significant(value.in(unit.size), figures);
}

}  // namespace coilbook
