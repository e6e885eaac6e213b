"""The best answers that anybody could give about a simulated bin: the exact posterior by quadrature.

Written apart from src/identify: no first-order errors, no normal stand-ins for rectangles. For a
coil with one weighed piece and some diameters the likelihood falls into a function of x = ln(weight
per foot) and one of u = ln(diameter), since no error is shared between them:

    P(k | readings)  ~  weight_k P(tint, taper, length | k)  sum_ij  Lx(x_i) Lu(u_j) p_k(x_i, u_j).

  Lx   the taped length is unknown within the tape's errors (a piece is cut by eye, so all lengths
       are alike beforehand); for each the chance that the display shows the weight read; a tapered
       coil's piece then differs from the whole, normal in the logarithm
  Lu   all diameters of a coil share the coating's squeeze and the micrometer's calibration, which is
       integrated; given that, each is rounded by itself; a tapered coil's differ from place to place
  p_k  the class's normal or Student density

What is read in water ties x and u together: bin_optimum_water.py.

Sums are midpoint rules over where the likelihood is above nothing. `self_test` halves the steps.
Leaves out, as the program's model does: what is known from a shorter piece that showed too little,
and the rounding of the whole length (0.1 % where the classes differ by 4 % and more).
"""
import math

import numpy as np

from bin_model import (FACETS, GRAIN_PER_FOOT, LN_DIAMETER, SOFT_COATING, TAPERED_DIAMETER_SD,
                       TAPERED_SAMPLE_SD, USUAL_TIP, covariance_in_x_and_u)

FAR = 5.0    # standard deviations of a normal error beyond which nothing is summed
NEAR = 8.0   # of a class; farther classes get no probability
BLOCK = 400  # coils at once


class Table:
    """A smooth function by cubic Hermite interpolation, within 1e-13 on -9 ... 9."""
    STEP = 1 / 256

    def __init__(self, function, slope, beyond):
        z = np.arange(-9 - self.STEP, 9 + 2 * self.STEP, self.STEP)
        self.value = np.array([function(each) for each in z])
        self.rise = np.array([slope(each) for each in z]) * self.STEP
        self.first, self.beyond = z[0], beyond

    def __call__(self, z):
        at = (np.clip(z, -9, 9) - self.first) / self.STEP
        i = at.astype(np.int64)
        t = at - i
        a, b, ra, rb = self.value[i], self.value[i + 1], self.rise[i], self.rise[i + 1]
        smooth = a + t * (ra + t * (3 * (b - a) - 2 * ra - rb + t * (2 * (a - b) + ra + rb)))
        return np.where(z > 9, self.beyond(z), np.where(z < -9, 0.0, smooth))


def normal_cdf(z):
    return 0.5 * math.erfc(-z / math.sqrt(2))


def normal_density(z):
    return math.exp(-0.5 * z * z) / math.sqrt(2 * math.pi)


PHI = Table(normal_cdf, normal_density, np.ones_like)
RAMP = Table(lambda z: z * normal_cdf(z) + normal_density(z), normal_cdf, lambda z: z)  # its integral


def ramp(value, sd):
    """The integral of the normal distribution function; of a step where sd is zero."""
    return sd * RAMP(value / sd) if sd > 0 else np.maximum(value, 0.0)


def step(value, sd):
    return PHI(value / sd) if sd > 0 else (value > 0).astype(float)


def chance_of_display(off, half_step, limit, sd):
    """P(display | true), up to a constant, for off = display - offset - true.

    The error is uniform within +-limit and normal with sd; the display rounds to 2 half_step. That
    is the second difference of the ramp. Steps or limits of zero are taken as very small ones.
    """
    smallest = 1e-3 * max(half_step, limit, sd)
    h, a = max(half_step, smallest), max(limit, smallest)
    return np.maximum(ramp(off + h + a, sd) - ramp(off + h - a, sd)
                      - ramp(off - h + a, sd) + ramp(off - h - a, sd), 0.0)


def errors_of(instrument):
    """(half a step, limit, sd of the normal errors together, reach of all)."""
    sd = math.hypot(instrument.repeatability, instrument.offset_u)
    h, a = instrument.resolution / 2, instrument.limit
    return h, a, sd, h + a + FAR * sd


def midpoints(low, high, count):
    """Columns of `count` midpoints between low and high, one row a coil."""
    return low[:, None] + (high - low)[:, None] * ((np.arange(count) + 0.5) / count)


class Quadrature:
    def __init__(self, fineness=1.0):
        self.x = int(80 * fineness)
        self.u = int(80 * fineness)
        self.inner = int(24 * fineness)


def likelihood_of_x(bin_, some, rule):
    """(x nodes, Lx) of the coils `some`."""
    scale, tape = bin_.instruments["scale"], bin_.instruments["tape"]
    weight = bin_.sample_weight[some] - scale.offset
    length = bin_.sample_length[some] - tape.offset
    h_w, a_w, sd_w, reach_w = errors_of(scale)
    h_l, a_l, sd_l, reach_l = errors_of(tape)
    low = np.maximum(weight - reach_w, 0.02 * weight) / (length + reach_l) / GRAIN_PER_FOOT
    high = (weight + reach_w) / np.maximum(length - reach_l, 0.5 * length) / GRAIN_PER_FOOT
    x = np.log(midpoints(low, high, rule.x))
    low, high = np.log(low), np.log(high)
    lengths = midpoints(np.maximum(length - reach_l, 0.5 * length), length + reach_l, rule.inner)
    of_length = chance_of_display(length[:, None] - lengths, h_l, a_l, sd_l)
    mass = np.exp(x)[:, :, None] * GRAIN_PER_FOOT * lengths[:, None, :]
    of_weight = chance_of_display(weight[:, None, None] - mass, h_w, a_w, sd_w)
    # Evenly spaced in the weight per foot itself, so dx goes as its inverse.
    level = np.einsum("cxl,cl->cx", of_weight, of_length) * np.exp(-x)

    # A tapered coil's mean differs from its piece's.
    whole = (bin_.whole_length[some] if "whole_length" in bin_.plan.readings
             else np.full(len(some), USUAL_TIP))
    missing = np.maximum(0.1, 1 - bin_.sample_length[some] / whole)
    sd = np.where(bin_.tapered[some], missing * TAPERED_SAMPLE_SD, 0.0)
    wide = midpoints(low - FAR * sd, high + FAR * sd, rule.x)
    with np.errstate(divide="ignore", invalid="ignore"):
        kernel = np.exp(-0.5 * ((wide[:, :, None] - x[:, None, :]) / sd[:, None, None]) ** 2)
    tapered = np.einsum("cwx,cx->cw", np.nan_to_num(kernel), level)
    is_tapered = bin_.tapered[some][:, None]
    return np.where(is_tapered, wide, x), np.where(is_tapered, tapered, level)


def likelihood_of_u(bin_, some, rule):
    """(u nodes, Lu) of the coils `some`."""
    micrometer = bin_.instruments["micrometer"]
    readings = bin_.diameters[some] - micrometer.offset
    h, sd = micrometer.resolution / 2, micrometer.repeatability
    a, soft = micrometer.limit, math.hypot(SOFT_COATING, micrometer.offset_u)
    a = max(a, 1e-3 * soft)
    own = h + FAR * sd
    first, last = readings.min(axis=1), readings.max(axis=1)
    is_tapered = bin_.tapered[some]

    # Level: every reading is of the same m = d + shared error.
    shared_reach = a + FAR * soft
    low, high = last - own, first + own
    middle = 0.5 * (low + high)
    low, high = np.minimum(low, middle - 1e-9), np.maximum(high, middle + 1e-9)
    floor = 0.05 * middle
    u = np.log(midpoints(1e3 * np.maximum(low - shared_reach, floor),
                         1e3 * np.maximum(high + shared_reach, 2 * floor), rule.u))
    m = midpoints(low, high, rule.inner)
    smallest = 1e-3 * max(h, sd)
    own_step = max(h, smallest)
    of_m = np.ones_like(m)
    for each in readings.T:
        off = each[:, None] - m
        of_m *= step(off + own_step, sd) - step(off - own_step, sd)
    error = m[:, None, :] - 1e-3 * np.exp(u)[:, :, None]
    of_error = PHI((error + a) / soft) - PHI((error - a) / soft)
    level = np.einsum("cum,cm->cu", of_error, of_m) * np.exp(-u)  # evenly spaced in the diameter
    if not is_tapered.any():
        return u, level

    # Tapered: each reading is of another place; given the shared error, places are independent.
    readings, count = readings[is_tapered], readings.shape[1]
    spread = TAPERED_DIAMETER_SD / math.sqrt(count)
    mean = np.log(readings).mean(axis=1) - math.log(1e-3)
    reach = FAR * spread + (shared_reach + own) / np.exp(mean) * 1e3
    wide = midpoints(mean - reach, mean + reach, rule.u)
    errors = np.linspace(-shared_reach, shared_reach, 2 * rule.inner + 1)
    of_error = PHI((errors + a) / soft) - PHI((errors - a) / soft)
    # The reading's own normal error, by five nodes.
    nodes, shares = np.polynomial.hermite_e.hermegauss(5) if sd > 0 else (np.zeros(1), np.ones(1))
    product = np.ones((len(readings), rule.u, len(errors)))
    for each in readings.T:
        of_place = 0.0
        for node, share in zip(nodes, shares):
            true = each[:, None] - errors - sd * node
            edges = [np.log(np.maximum(true + side * own_step, 1e-9) * 1e3) for side in (1, -1)]
            of_place = of_place + share * (
                PHI((edges[0][:, None, :] - wide[:, :, None]) / TAPERED_DIAMETER_SD)
                - PHI((edges[1][:, None, :] - wide[:, :, None]) / TAPERED_DIAMETER_SD))
        product *= of_place
    u[is_tapered] = wide
    level[is_tapered] = product @ of_error
    return u, level


def class_density(classes, k, dx, du):
    """p_k at distances from its middle in (x, u), times a constant that all classes share."""
    cov = covariance_in_x_and_u(classes, k)
    dof = classes.dof[k]
    if math.isfinite(dof):
        cov = cov * (dof - 2) / dof
    (a, b), (_, c) = np.linalg.inv(cov)
    # Axis by axis where it can be, to spare exponentials.
    square = (a * dx**2)[:, :, None] + 2 * b * dx[:, :, None] * du[:, None, :] + (c * du**2)[:, None, :]
    norm = 1 / math.sqrt(np.linalg.det(cov))
    if math.isfinite(dof):
        return norm * (1 + square / dof) ** (-0.5 * (dof + 2))
    return norm * np.exp(-0.5 * square)


def marginal_density(mean, sd, dof, at):
    """The same in one dimension, of the marginal of x."""
    if math.isfinite(dof):
        sd = sd * math.sqrt((dof - 2) / dof)
        norm = math.exp(math.lgamma((dof + 1) / 2) - math.lgamma(dof / 2)) / math.sqrt(dof / 2)
        return norm / sd * (1 + ((at - mean) / sd) ** 2 / dof) ** (-0.5 * (dof + 1))
    return np.exp(-0.5 * ((at - mean) / sd) ** 2) / sd


def ln_soft(bin_, some, k):
    classes, total = bin_.classes, np.zeros(len(some))
    with np.errstate(divide="ignore"):
        if "tint" in bin_.plan.readings:
            total += np.log(classes.tints[k][bin_.tint[some]])
        if "taper" in bin_.plan.readings:
            total += np.log(np.where(bin_.tapered[some], classes.tapered[k], 1 - classes.tapered[k]))
    if "whole_length" in bin_.plan.readings:
        total += classes.ln_length_density(k, bin_.whole_length[some])
    return total


WATER = {"submerged_weight", "sink_time", "floats"}
COVERED = {"sample_weight", "diameters", "tint", "taper", "whole_length"} | WATER


def posterior(bin_, some, rule):
    """Probabilities of all classes, one row a coil of `some`."""
    classes = bin_.classes
    x, of_x = likelihood_of_x(bin_, some, rule)
    has_u = "diameters" in bin_.plan.readings
    if has_u:
        u, of_u = likelihood_of_u(bin_, some, rule)
    together = None
    if WATER & bin_.plan.readings:
        import bin_optimum_water
        together = np.stack([bin_optimum_water.factor(bin_, i, x[j], u[j], of_x[j], rule)
                             * of_u[j][None, :] for j, i in enumerate(some)])
    found = np.zeros((len(some), len(classes)))
    for k in range(len(classes)):
        mean_x = classes.mx[k]
        mean_u = 0.5 * (classes.mx[k] - classes.my[k]) + LN_DIAMETER
        if has_u:
            cov = covariance_in_x_and_u(classes, k)
            near = np.ones(len(some), bool)
            if math.isinf(classes.dof[k]):
                for at, mean, sd in ((x, mean_x, math.sqrt(cov[0, 0])),
                                     (u, mean_u, math.sqrt(cov[1, 1]))):
                    near &= (at[:, 0] < mean + NEAR * sd) & (at[:, -1] > mean - NEAR * sd)
            if not near.any():
                continue
            density = class_density(classes, k, x[near] - mean_x, u[near] - mean_u)
            if together is None:
                integral = np.einsum("cu,cu->c", np.einsum("cxu,cx->cu", density, of_x[near]),
                                     of_u[near])
            else:
                integral = np.einsum("cxu,cxu->c", density, together[near])
        else:
            near = np.ones(len(some), bool)
            density = marginal_density(mean_x, classes.sx[k], classes.dof[k], x)
            integral = np.einsum("cx,cx->c", density, of_x)
        found[near, k] = classes.weight[k] * integral * np.exp(ln_soft(bin_, some[near], k))
    return found / found.sum(axis=1, keepdims=True)


def all_posteriors(bin_, fineness=1.0, told=None):
    uncovered = bin_.plan.readings - COVERED
    if uncovered or "sample_weight" not in bin_.plan.readings:
        raise SystemExit("--optimal needs sample_weight, and knows no "
                         + ", ".join(sorted(uncovered)) if uncovered else
                         "--optimal needs sample_weight")
    if WATER & bin_.plan.readings and "diameters" not in bin_.plan.readings:
        raise SystemExit("--optimal needs diameters beside what is read in water")
    # Piece by piece of the plan: taper changes the errors even where it is not among the readings
    # that classes are told by, so it must be.
    if "taper" not in bin_.plan.readings and bin_.tapered.any():
        raise SystemExit("--optimal needs taper among the readings, since the errors depend on it")
    rule = Quadrature(fineness)
    rows = []
    for start in range(0, bin_.plan.coils, BLOCK):
        rows.append(posterior(bin_, np.arange(start, min(start + BLOCK, bin_.plan.coils)), rule))
        if told:
            told(min(start + BLOCK, bin_.plan.coils))
    return np.concatenate(rows)


def best_answers(classes, probabilities):
    """The columns best_class, best_FACET and best_class_probability of the truth file."""
    best = probabilities.argmax(axis=1)
    columns = {"best_class": [classes.names[k] for k in best]}
    for facet in FACETS:
        labels = sorted(set(classes.facets[facet]))
        member = np.array([[each == label for label in labels] for each in classes.facets[facet]])
        columns[f"best_{facet}"] = [labels[i] for i in (probabilities @ member).argmax(axis=1)]
    columns["best_class_probability"] = [f"{each:.9g}" for each in probabilities.max(axis=1)]
    return columns
