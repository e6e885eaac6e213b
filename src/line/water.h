// The water a line sinks in: its density and its viscosity, fresh or salt, from 0 to 40 °C.
//
// Temperature matters through the viscosity, which halves between 3 and 30 °C; salt matters through
// the density, which carries nearly neutral lines. Assumes clean, still water at the pressure of
// the air, 101.325 kPa. Leaves out: depth (a metre adds 0.005 kg/m3), dissolved air (takes away up
// to 0.003 kg/m3), silt, and ice: sea water below 0 °C is refused.
#pragma once

#include <compare>

#include "base/result.h"
#include "quantity/quantity.h"
#include "quantity/temperature.h"

namespace coilbook {

// How salt the water is, as practical salinity (PSS-78): a pure number, 0 in fresh water, about 35
// in the open sea. Invariant: between 0 and 42, where that scale is defined.
class Salinity {
  public:
    // Fresh water.
    constexpr Salinity() = default;

    // A Problem (field empty) for anything that is not between 0 and 42.
    [[nodiscard]] static Result<Salinity> from_practical(double practical);

    [[nodiscard]] constexpr double practical() const { return practical_; }
    // Kilograms of salt in a kilogram of sea water: (35.16504 / 35) g/kg for each unit of practical
    // salinity, exactly so in the reference composition.
    // Source: Millero et al. 2008 and TEOS-10; the factor 1.00471543 from memory, and the same in
    // values computed with gsw 3.6.16.
    [[nodiscard]] constexpr double mass_fraction() const {
        return practical_ * (35.16504e-3 / 35.0);
    }

    constexpr auto operator<=>(const Salinity&) const = default;

  private:
    explicit constexpr Salinity(double practical) : practical_(practical) {}
    double practical_ = 0.0;
};

struct Water {
    Density density;
    DynamicViscosity viscosity;

    bool operator==(const Water&) const = default;
};

// Water at a temperature; fresh if no salinity is given. A Problem (field empty) for temperatures
// below 0 °C or above 40 °C, or not a number.
//
// Density, fresh: Tanaka et al., Metrologia 38 (2001) 301, 0 to 40 °C on ITS-90. Its own standard
// uncertainty is below 0.001 kg/m3 (from memory); it stays within 0.0012 kg/m3 of IAPWS-95
// (computed).
// Density, salt: the fresh density plus the saline terms of the one-atmosphere EOS-80 (UNESCO
// technical paper 44, 1983), so that at salinity 0 it is Tanaka's, not EOS-80's own pure water.
// EOS-80 takes temperatures on IPTS-68: t68 = 1.00024 t90. Standard uncertainty 0.004 kg/m3 (the
// 0.0036 of EOS-80 is from memory); within 0.006 kg/m3 of TEOS-10 (computed).
// Viscosity, fresh: liquid_water_viscosity().
// Viscosity, salt: the fresh one times 1 + A S + B S², Sharqawy et al., Desalination and Water
// Treatment 16 (2010) 354, S as a mass fraction. Most of its coefficients are from memory; the
// paper's accuracy is about 1.5 % (from memory), that is a standard uncertainty of 0.9 %.
[[nodiscard]] Result<Water> water_at(Temperature temperature, Salinity salinity = {});

// What sink rates are quoted for when nobody says otherwise.
[[nodiscard]] Water fresh_water_at_10_C();

// Viscosity of pure liquid water at 0.1 MPa. REQUIRES: 253.15 to 383.15 K.
// Standard uncertainty 0.5 % (1 % at k = 2, from memory); within 0.004 % of the full formulation
// IAPWS R12-08 between 0 and 40 °C (computed).
// Source: IAPWS SR6-08; Pátek et al., J. Phys. Chem. Ref. Data 38 (2009) 21.
[[nodiscard]] DynamicViscosity liquid_water_viscosity(Temperature temperature);

// Viscosity over density, which is what Reynolds numbers are made of.
[[nodiscard]] KinematicViscosity kinematic_viscosity(const Water& water);

}  // namespace coilbook
