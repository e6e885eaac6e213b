// The units of the trade, with their legal factors. Every factor here is exact.
//
// Sources: the international inch, foot, yard and pound and the grain: agreement of 1959, as in
// NIST SP 811 (2008), appendix B.8; ounce = 437.5 grains, pound = 7000 grains: NIST Handbook 44,
// appendix C. Standard gravity: CGPM 1901.
#pragma once

#include "quantity/quantity.h"

namespace coilbook {

inline constexpr Mass kilogram = Mass::from_si(1.0);
inline constexpr Mass gram = kilogram / 1000.0;
inline constexpr Mass milligram = kilogram / 1e6;
inline constexpr Mass grain = 64.79891 * milligram;
inline constexpr Mass ounce = 437.5 * grain;
inline constexpr Mass pound = 7000.0 * grain;

inline constexpr Length metre = Length::from_si(1.0);
inline constexpr Length centimetre = metre / 100.0;
inline constexpr Length millimetre = metre / 1000.0;
inline constexpr Length inch = 25.4 * millimetre;
inline constexpr Length foot = 0.3048 * metre;
inline constexpr Length yard = 0.9144 * metre;
inline constexpr Length thou = inch / 1000.0;

inline constexpr Duration second = Duration::from_si(1.0);
inline constexpr Duration minute = 60.0 * second;

inline constexpr Speed metre_per_second = metre / second;
inline constexpr Speed inch_per_second = inch / second;

inline constexpr LinearDensity grain_per_foot = grain / foot;
inline constexpr LinearDensity gram_per_metre = gram / metre;

inline constexpr Density kilogram_per_cubic_metre = Density::from_si(1.0);
inline constexpr Density gram_per_cubic_centimetre = Density::from_si(1000.0);

inline constexpr DynamicViscosity pascal_second = DynamicViscosity::from_si(1.0);

inline constexpr Acceleration standard_gravity = Acceleration::from_si(9.80665);

}  // namespace coilbook
