// Temperature: a point on a scale, unlike a length, so it is a type of its own.
//
// Two temperatures have a difference but no sum; a difference (or an uncertainty) has no zero
// point. 0 °C is 273.15 K, 32 °F is 0 °C and 1.8 °F span 1 K, all exact.
#pragma once

#include <compare>

namespace coilbook {

// A span between two temperatures, such as a thermometer's uncertainty.
class TemperatureDifference {
  public:
    constexpr TemperatureDifference() = default;
    [[nodiscard]] static constexpr TemperatureDifference from_kelvin(double k) {
        return TemperatureDifference(k);
    }
    [[nodiscard]] static constexpr TemperatureDifference from_si(double k) {
        return TemperatureDifference(k);
    }
    [[nodiscard]] constexpr double kelvin() const { return kelvin_; }
    [[nodiscard]] constexpr double si() const { return kelvin_; }
    [[nodiscard]] constexpr double fahrenheit_degrees() const { return kelvin_ * 1.8; }
    constexpr auto operator<=>(const TemperatureDifference&) const = default;

  private:
    explicit constexpr TemperatureDifference(double k) : kelvin_(k) {}
    double kelvin_ = 0.0;
};

class Temperature {
  public:
    [[nodiscard]] static constexpr Temperature from_celsius(double c) {
        return Temperature(c + 273.15);
    }
    [[nodiscard]] static constexpr Temperature from_fahrenheit(double f) {
        return from_celsius((f - 32.0) / 1.8);
    }
    [[nodiscard]] static constexpr Temperature from_kelvin(double k) { return Temperature(k); }

    [[nodiscard]] constexpr double celsius() const { return kelvin_ - 273.15; }
    [[nodiscard]] constexpr double fahrenheit() const { return celsius() * 1.8 + 32.0; }
    [[nodiscard]] constexpr double kelvin() const { return kelvin_; }

    constexpr auto operator<=>(const Temperature&) const = default;
    friend constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
        return TemperatureDifference::from_kelvin(a.kelvin_ - b.kelvin_);
    }
    friend constexpr Temperature operator+(Temperature a, TemperatureDifference d) {
        return Temperature(a.kelvin_ + d.kelvin());
    }

  private:
    explicit constexpr Temperature(double k) : kelvin_(k) {}
    double kelvin_;
};

}  // namespace coilbook
