// Physical quantities as types, so that a weight cannot be passed where a length is meant.
//
// A Quantity holds one number in SI units and knows its dimension at compile time. Values are born
// by multiplying a unit (22.4 * grain) and read by naming one (mass.in(grain)); products and
// quotients have the right dimension by themselves. Temperatures are another matter: temperature.h.
// Leaves out: amounts, currents, angles, checks for sign or size (those belong to who reads input).
#pragma once

#include <compare>

namespace coilbook {

// Exponents of kilogram, metre and second. Quantity<0, 0, 0> does not exist: it is a plain double.
template <int Kg, int M, int S>
class Quantity {
    static_assert(Kg != 0 || M != 0 || S != 0, "a pure number is a double");

  public:
    constexpr Quantity() = default;

    [[nodiscard]] static constexpr Quantity from_si(double si) { return Quantity(si); }
    // The number in SI units, for storage and for numerical libraries; elsewhere use in().
    [[nodiscard]] constexpr double si() const { return si_; }
    // The number of `unit`s that this is.
    [[nodiscard]] constexpr double in(Quantity unit) const { return si_ / unit.si_; }

    constexpr auto operator<=>(const Quantity&) const = default;

    constexpr Quantity operator-() const { return Quantity(-si_); }
    constexpr Quantity& operator+=(Quantity other) { return *this = *this + other; }
    constexpr Quantity& operator-=(Quantity other) { return *this = *this - other; }
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity(a.si_ + b.si_); }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity(a.si_ - b.si_); }
    friend constexpr Quantity operator*(Quantity a, double f) { return Quantity(a.si_ * f); }
    friend constexpr Quantity operator*(double f, Quantity a) { return Quantity(f * a.si_); }
    friend constexpr Quantity operator/(Quantity a, double f) { return Quantity(a.si_ / f); }

  private:
    explicit constexpr Quantity(double si) : si_(si) {}
    double si_ = 0.0;
};

namespace detail {

// A Quantity, or a double where all exponents cancel.
template <int Kg, int M, int S>
constexpr auto make_quantity(double si) {
    if constexpr (Kg == 0 && M == 0 && S == 0) {
        return si;
    } else {
        return Quantity<Kg, M, S>::from_si(si);
    }
}

}  // namespace detail

template <int Kg1, int M1, int S1, int Kg2, int M2, int S2>
constexpr auto operator*(Quantity<Kg1, M1, S1> a, Quantity<Kg2, M2, S2> b) {
    return detail::make_quantity<Kg1 + Kg2, M1 + M2, S1 + S2>(a.si() * b.si());
}
template <int Kg1, int M1, int S1, int Kg2, int M2, int S2>
constexpr auto operator/(Quantity<Kg1, M1, S1> a, Quantity<Kg2, M2, S2> b) {
    return detail::make_quantity<Kg1 - Kg2, M1 - M2, S1 - S2>(a.si() / b.si());
}
template <int Kg, int M, int S>
constexpr auto operator/(double number, Quantity<Kg, M, S> b) {
    return Quantity<-Kg, -M, -S>::from_si(number / b.si());
}

using Mass = Quantity<1, 0, 0>;
using Length = Quantity<0, 1, 0>;
using Duration = Quantity<0, 0, 1>;
using Area = Quantity<0, 2, 0>;
using Speed = Quantity<0, 1, -1>;
using Acceleration = Quantity<0, 1, -2>;
using LinearDensity = Quantity<1, -1, 0>;
using Density = Quantity<1, -3, 0>;
using DynamicViscosity = Quantity<1, -1, -1>;
using KinematicViscosity = Quantity<0, 2, -1>;

}  // namespace coilbook
