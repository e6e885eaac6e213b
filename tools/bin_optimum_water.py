"""What weighing under water, a timed drop and floating add to the best answers (bin_optimum.py).

Each gives the likelihood of one coil on its grid of (x, u), where y = x - 2 (u - LN_DIAMETER), apart
from src/identify: rectangles and rounding as they are, the sink rate as it bends.

  under water  the weighings in air and in water share the scale's error and the piece's mass. With
               t what the scale showed in air before rounding, m the mass and b = water / density:
               P(air, water | x, y) = sum_m P(m | x) sum_t P(t - m) P(air | t) P(water | t - m b)
  drop         the time is the tape's distance over rate e^d, d the drag law's error and the little
               that the thermometer leaves; then the watch errs and rounds
  floating     seen by its density, wrong once in a hundred

Steps halved, 300 kitchen coils weighed under water change a probability by 0.008 at most; their
rounding is coarse, and that is little beside the 0.99 that is held (prove-engine).
"""
import math

import numpy as np

import bin_optimum
from bin_model import (FLOATING_MISJUDGED, GRAIN_PER_FOOT, LN_DIAMETER, TAPERED_SAMPLE_SD, USUAL_TIP)
from line_physics import water_density

RATE_PER_KELVIN = 0.003  # of ln(sink rate): evidence.h


def density_of(x, u):
    """y on the grid."""
    return x[:, None] - 2 * (u[None, :] - LN_DIAMETER)


def of_water(bin_, i, x, y, rule):
    """P(air, water | x, y) of coil i in place of what bin_optimum has for air alone."""
    scale, tape = bin_.instruments["scale"], bin_.instruments["tape"]
    air = bin_.sample_weight[i] - scale.offset
    water = bin_.submerged_weight[i] - scale.offset
    length = bin_.sample_length[i] - tape.offset
    half, limit, sd, reach = bin_optimum.errors_of(scale)
    own = scale.repeatability
    # Nodes: the mass, and what the scale had to show in air.
    count = 2 * rule.inner
    m = bin_optimum.midpoints(np.array([max(air - reach, 0.02 * air)]), np.array([air + reach]), count)[0]
    spread = half + 5 * own
    t = bin_optimum.midpoints(np.array([air - spread]), np.array([air + spread]), count)[0]
    smallest = 1e-3 * max(half, own)
    rounds = max(half, smallest)

    def display(off):
        return bin_optimum.step(off + rounds, own) - bin_optimum.step(off - rounds, own)
    # The scale's shared error t - m: uniform, and normal by the offset's uncertainty.
    a, soft = max(limit, 1e-3 * half), scale.offset_u
    shared = bin_optimum.step(t[None, :] - m[:, None] + a, soft) - bin_optimum.step(
        t[None, :] - m[:, None] - a, soft)
    of_air = shared * display(air - t)[None, :]
    # By density, on a line of its own.
    displaced = air - water
    thinnest = max(displaced - 2 * spread, 1e-3 * air)
    rho = water_density(bin_.temperature[i]) / 1000
    ends = [math.log(rho * air / each) for each in (displaced + 2 * spread, thinnest)]
    ys = np.linspace(ends[0] - 0.02, ends[1] + 0.02, 4 * rule.u)
    lifted = m[:, None, None] * (rho * np.exp(-ys))[None, None, :]
    of_both = np.einsum("mt,mty->my", of_air, display(water - t[None, :, None] + lifted))
    # The mass of the piece of a coil of x: the tape's error, and a tapered piece's difference.
    h_l, a_l, sd_l, _ = bin_optimum.errors_of(tape)
    linear = np.exp(x) * GRAIN_PER_FOOT
    if bin_.tapered[i]:
        whole = bin_.whole_length[i] if "whole_length" in bin_.plan.readings else USUAL_TIP
        differs = max(0.1, 1 - length / whole) * TAPERED_SAMPLE_SD
        off = np.log(m[None, :] / (linear[:, None] * length)) / differs
        of_mass = np.exp(-0.5 * off**2) / m[None, :]
    else:
        of_mass = bin_optimum.chance_of_display(length - m[None, :] / linear[:, None], h_l, a_l, sd_l)
        of_mass = of_mass / linear[:, None]
    on_line = of_mass @ of_both
    return np.stack([np.interp(y[j], ys, on_line[j], left=0.0, right=0.0) for j in range(len(x))])


def of_drop(bin_, i, x, y, rule):
    watch, tape = bin_.instruments["stopwatch"], bin_.instruments["tape"]
    rate, drag_u = bin_.sinks(np.broadcast_to(x[:, None], y.shape), y, bin_.temperature[i])
    level = math.hypot(tape.sd() / bin_.sink_distance[i],
                       RATE_PER_KELVIN * bin_.instruments["thermometer"].sd())
    sd = np.hypot(drag_u, level)
    half, _, own, _ = bin_optimum.errors_of(watch)
    rounds = max(half, 1e-3 * own)
    chance = np.zeros_like(y)
    with np.errstate(divide="ignore", invalid="ignore"):
        time = (bin_.sink_distance[i] - tape.offset) / np.maximum(rate, 1e-9)
        for d in np.linspace(-5, 5, 2 * rule.inner + 1):
            off = bin_.sink_time[i] - watch.offset - time * np.exp(-sd * d)
            chance += math.exp(-0.5 * d * d) * (bin_optimum.step(off + rounds, own)
                                                - bin_optimum.step(off - rounds, own))
    return np.where(rate > 0, chance, 0.0)


def of_floating(bin_, i, y):
    lighter = np.exp(y) * 1000 < water_density(10.0)
    return np.where(lighter == bin_.floats[i], 1 - FLOATING_MISJUDGED, FLOATING_MISJUDGED)


def factor(bin_, i, x, u, of_x, rule):
    """What coil i's likelihood of x and u together is, but for the diameters' own part."""
    y = density_of(x, u)
    found = np.broadcast_to(of_x[:, None], y.shape)
    if "submerged_weight" in bin_.plan.readings and not math.isnan(bin_.submerged_weight[i]):
        found = of_water(bin_, i, x, y, rule)
    if "sink_time" in bin_.plan.readings and not math.isnan(bin_.sink_time[i]):
        found = found * of_drop(bin_, i, x, y, rule)
    if bin_.floats is not None:
        found = found * of_floating(bin_, i, y)
    return found
