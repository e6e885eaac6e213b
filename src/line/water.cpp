#include "line/water.h"

#include <cassert>
#include <cmath>

#include "quantity/print.h"
#include "quantity/units.h"

namespace coilbook {
namespace {

constexpr Temperature coldest = Temperature::from_celsius(0.0);
constexpr Temperature warmest = Temperature::from_celsius(40.0);
constexpr double saltest = 42.0;

// ρ = a5 [1 − (t + a1)² (t + a2) / (a3 (t + a4))], t in °C on ITS-90 (Tanaka 2001).
Density fresh_density(double t) {
    const double from_densest = t - 3.983035;
    return 999.974950 *
           (1.0 - from_densest * from_densest * (t + 301.797) / (522528.9 * (t + 69.34881))) *
           kilogram_per_cubic_metre;
}

// A S + B S^1.5 + C S² in kg/m3, S practical, t in °C on IPTS-68 (EOS-80, one atmosphere).
Density added_by_salt(double t90, Salinity salinity) {
    const double t = 1.00024 * t90;
    const double s = salinity.practical();
    const double a =
        8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
    const double b = -5.72466e-3 + t * (1.0227e-4 + t * -1.6546e-6);
    const double c = 4.8314e-4;
    return s * (a + b * std::sqrt(s) + c * s) * kilogram_per_cubic_metre;
}

// μ_salt / μ_fresh = 1 + A S + B S², S in kg/kg, t in °C (Sharqawy 2010).
double thickened_by_salt(double t, Salinity salinity) {
    const double s = salinity.mass_fraction();
    const double a = 1.541 + t * (1.998e-2 + t * -9.52e-5);
    const double b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
    return 1.0 + s * (a + b * s);
}

// REQUIRES: a temperature between coldest and warmest.
Water water_within_range(Temperature temperature, Salinity salinity) {
    const double t = temperature.celsius();
    return {.density = fresh_density(t) + added_by_salt(t, salinity),
            .viscosity = liquid_water_viscosity(temperature) * thickened_by_salt(t, salinity)};
}

}  // namespace

Result<Salinity> Salinity::from_practical(double practical) {
    if (!(practical >= 0.0 && practical <= saltest)) {
        return problem("", "a salinity of " + significant(practical, 4) + " does not occur",
                       "a practical salinity between 0 (fresh) and 42; the open sea has about 35");
    }
    return Salinity(practical);
}

Result<Water> water_at(Temperature temperature, Salinity salinity) {
    if (!(temperature >= coldest && temperature <= warmest)) {
        return problem(
            "", "water at " + significant(temperature.celsius(), 4) + " C is not provided for",
            "a temperature between 0 and 40 C (32 and 104 F)");
    }
    return water_within_range(temperature, salinity);
}

Water fresh_water_at_10_C() {
    static const Water water = water_within_range(Temperature::from_celsius(10.0), {});
    return water;
}

// μ = 280.68 T^-1.9 + 511.45 T^-7.7 + 61.131 T^-19.6 + 0.45903 T^-40 in µPa s, T in units of 300 K.
DynamicViscosity liquid_water_viscosity(Temperature temperature) {
    assert(temperature.kelvin() >= 253.15 && temperature.kelvin() <= 383.15);
    const double t = temperature.kelvin() / 300.0;
    return 1e-6 *
           (280.68 * std::pow(t, -1.9) + 511.45 * std::pow(t, -7.7) + 61.131 * std::pow(t, -19.6) +
            0.45903 * std::pow(t, -40.0)) *
           pascal_second;
}

KinematicViscosity kinematic_viscosity(const Water& water) {
    return water.viscosity / water.density;
}

}  // namespace coilbook
