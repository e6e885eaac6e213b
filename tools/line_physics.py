"""How fast a level line sinks in still fresh water, for the tools that make data.

Written apart from src/line on purpose, so that the two can be held against each other: same
published formulas, other code, other solver. Plain SI floats; names say the unit where it is not SI.

Leaves out: salt water, current, line tension, the ends of the piece.
Sources: Cheng (2013), J. Hydraul. Eng. 139, for the drag; Tanaka et al. (2001) for the density of
water; IAPWS SR6-08 (Patek et al. 2009) for its viscosity. How far the drag law may be off: 3 to 8 %.
"""
import math

GRAIN = 64.79891e-6  # kg, exact (international pound of 1959: 7000 grains)
INCH = 0.0254        # m, exact
FOOT = 0.3048        # m, exact
GRAIN_PER_FOOT = GRAIN / FOOT
GRAVITY = 9.80665    # m/s2, standard gravity, CGPM 1901


def water_density(celsius):
    """kg/m3 at one atmosphere, 0 to 40 C. Source: Tanaka et al. (2001)."""
    t = celsius
    return 999.974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


def water_viscosity(celsius):
    """Pa s at one atmosphere, 0 to 100 C. Source: IAPWS SR6-08."""
    s = (celsius + 273.15) / 300
    return 1e-6 * (280.68 * s**-1.9 + 511.45 * s**-7.7 + 61.131 * s**-19.6 + 0.45903 * s**-40)


def drag_coefficient(reynolds):
    """Of a cylinder in cross flow, below 2e5. Source: Cheng (2013)."""
    return (11 * reynolds**-0.75 + 0.9 * (1 - math.exp(-1000 / reynolds))
            + 1.2 * (1 - math.exp(-((reynolds / 4500) ** 0.7))))


def diameter(linear_density, density):
    return math.sqrt(4 * linear_density / (math.pi * density))


def bisected(rises_through_zero, low, high):
    """The root of an increasing function between low and high, both above zero."""
    for _ in range(200):
        middle = math.sqrt(low * high)
        if middle in (low, high):
            break
        if rises_through_zero(middle) > 0:
            high = middle
        else:
            low = middle
    return math.sqrt(low * high)


def sink_rate(linear_density, density, celsius=10.0):
    """m/s, positive downwards; a line lighter than water gets a negative rate: it rises.

    Balance per length: |density - water| g pi d^2 / 4 = water/2 C_D(Re) d v^2, Re = water v d / mu.
    """
    water, viscosity = water_density(celsius), water_viscosity(celsius)
    thick = diameter(linear_density, density)
    pull = abs(density - water) * GRAVITY * math.pi * thick**2 / 4

    def too_fast(v):
        return water / 2 * drag_coefficient(water * v * thick / viscosity) * thick * v**2 - pull

    return math.copysign(bisected(too_fast, 1e-9, 10.0), density - water)


def density_for_rate(linear_density, rate, celsius=10.0):
    """kg/m3 of the line of this weight per length that sinks at `rate`, above zero."""
    return bisected(lambda density: sink_rate(linear_density, density, celsius) - rate,
                    water_density(celsius) * (1 + 1e-9), 50000.0)


def self_test():
    """Raises AssertionError if the physics is not the published one."""
    # IAPWS SR6-08's own check value at 298.15 K; Tanaka's formula at 20 C (published test value).
    assert abs(water_viscosity(25.0) - 889.996774e-6) < 1e-12
    assert abs(water_density(20.0) - 998.2067) < 1e-4
    # Computed apart from this file with Cheng's drag and IAPWS water at 5 C and 20 C.
    for celsius, density, thick, rate in [(5, 2000, 1.0e-3, 0.10399600), (5, 1200, 1.0e-3, 0.04061694),
                                          (20, 3000, 1.5e-3, 0.19735027)]:
        linear = density * math.pi * thick**2 / 4
        assert abs(sink_rate(linear, density, celsius) / rate - 1) < 2e-5
        assert abs(density_for_rate(linear, rate, celsius) / density - 1) < 1e-4
