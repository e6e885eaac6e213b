"""An invented bin of coils and its readings, drawn from exactly the model that the program states.

For tools/simulate-bin and tools/prove-engine. The model is that of src/identify/evidence.h and
posterior.h, written apart from them: a class by its prior weight; ln(weight per foot) and
ln(density) from the class's normal or Student distribution; tint, taper and length by the class's
probabilities; readings = true value + the instrument's shared error + its repeatability, rounded to
its resolution. Needs Debian's python3-numpy: thousands of coils at once.

Plain SI floats; names say the unit where it is not SI. x = ln(weight per length / (1 gr/ft)),
y = ln(density / (1 g/cm3)), u = ln(diameter / (1 mm)).

Leaves out what the stated model leaves out: uneven coatings, drift, mistakes of people.
"""
import csv
import dataclasses
import math

import numpy as np

from line_physics import (FOOT, GRAIN, GRAIN_PER_FOOT, GRAVITY, INCH, water_density,
                          water_viscosity)

TINTS = ["clear", "pale", "brown", "dark", "black"]
FACETS = ["family", "grain_class", "density_grade", "line_size"]

# The program's stated assumptions: instrument.h, evidence.h, posterior.h.
SOFT_COATING = 0.010e-3
TAPERED_SAMPLE_SD = 0.15
TAPERED_DIAMETER_SD = 0.08
USUAL_TIP = 12.0 * FOOT
FLOATING_MISJUDGED = 0.01
USUAL_LENGTH_SHARE = 0.5
SHORTEST, LONGEST = 1.0 * FOOT, 150.0 * FOOT

# ln(diameter / 1 mm) = (x - y) / 2 + LN_DIAMETER.
LN_DIAMETER = 0.5 * math.log(4 / math.pi * GRAIN_PER_FOOT / 1000.0 / 1e-6)


# --- The classes. ---

class Classes:
    """The reference classes, from `coilbook classes --format csv` or from the library's own file."""

    def __init__(self, path):
        with open(path, encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        listed = "ln_grains_per_foot_mean" in rows[0]
        if listed and "tapered" not in rows[0]:
            raise SystemExit(f"{path}: no column 'tapered': this coilbook prints too little of its"
                             " classes; give assets/reference_library.csv instead")

        def column(name, scale=1.0):
            return np.array([float(row[name]) * scale for row in rows])
        self.names = [row["class"] for row in rows]
        self.facets = {facet: [row[facet] for row in rows] for facet in FACETS}
        self.weight = column("weight") / sum(column("weight"))
        self.corr = column("correlation")
        self.tapered = column("tapered")
        if listed:
            self.mx, self.sx = column("ln_grains_per_foot_mean"), column("ln_grains_per_foot_sd")
            self.my, self.sy = column("ln_density_mean"), column("ln_density_sd")
            tints = [f"tint_{tint}" for tint in TINTS]
            usual_sd = "usual_length_sd"
        else:
            self.mx, self.my = np.log(column("grains_per_foot")), np.log(column("density_g_cm3"))
            self.sx = column("grains_per_foot_sd_percent", 0.01)
            self.sy = column("density_sd_percent", 0.01)
            tints = TINTS
            usual_sd = "usual_length_sd_percent"
        self.tints = np.stack([column(tint) for tint in tints], axis=1)
        self.usual = [np.array([float(each) * FOOT for each in
                                row["usual_lengths_ft"].replace("|", " ").split()]) for row in rows]
        self.usual_sd = np.array([float(row[usual_sd] or 0) * (1 if listed else 0.01)
                                  for row in rows])
        # Infinite degrees of freedom: normal.
        self.dof = np.array([float(row.get("degrees_of_freedom") or "inf") for row in rows])
        self.unlisted = self.facets["family"].index("unlisted")

    def __len__(self):
        return len(self.names)

    def ln_length_density(self, k, length):
        """ln of the density of ln(length): a usual one in half of the cases (posterior.h)."""
        anything = np.where((length >= SHORTEST) & (length <= LONGEST), 1.0, 1e-3) / math.log(150.0)
        if not len(self.usual[k]):
            return np.log(anything)
        off = np.log(length[:, None] / self.usual[k]) / self.usual_sd[k]
        usual = np.exp(-0.5 * off**2).mean(axis=1) / (self.usual_sd[k] * math.sqrt(2 * math.pi))
        return np.log(USUAL_LENGTH_SHARE * usual + (1 - USUAL_LENGTH_SHARE) * anything)


# --- The instruments. ---

UNITS = {"scale": {"gr": GRAIN, "g": 1e-3, "mg": 1e-6, "kg": 1.0},
         "tape": {"in": INCH, "mm": 1e-3, "cm": 1e-2, "ft": FOOT},
         "micrometer": {"mm": 1e-3, "in": INCH, "thou": INCH / 1000},
         "stopwatch": {"s": 1.0}, "thermometer": {"C": 1.0, "K": 1.0}}
COLUMNS = ["code", "kind", "resolution", "limit_of_error", "repeatability", "offset", "offset_u"]

# What each bench has, and why (own assumptions but where a source is named). Stopwatch and
# thermometer have no column in a readings file, so they go without a code: the default ones.
#  kitchen     a scale in steps of 0.1 g that is right to one step and reads the same again; a cloth
#              tape read to 1/8 in, right to 1/16 in; a sliding caliper of 0.05 mm, right to 0.05 mm
#              (the limit of DIN 862 for that step, from memory), which the hand squeezes a little
#              differently each time (0.02 mm on a soft line).
#  shop        the defaults of contract.md: a grain scale of 0.1 gr, a tape of 1/16 in, a micrometer
#              of 0.001 mm with the limit of DIN 863.
#  laboratory  an analytical balance of 0.001 g, right to 0.002 g, repeating to 0.001 g; a steel rule
#              of 0.5 mm, right to 0.3 mm (class II of the measuring directive allows 0.5 mm at 1 m,
#              from memory); a micrometer of 0.001 mm and 0.002 mm with a friction thimble.
QUALITIES = {
    "kitchen": """scale,scale,0.1 g,0.1 g,0 g,0 g,0 g
tape,tape,0.125 in,0.0625 in,0 in,0 in,0 in
caliper,micrometer,0.05 mm,0.05 mm,0.02 mm,0 mm,0 mm
,stopwatch,0.1 s,0 s,0.3 s,0 s,0 s
,thermometer,1 C,0 C,0 C,0 C,1 C
""",
    "shop": """scale,scale,0.1 gr,0.1 gr,0 gr,0 gr,0 gr
tape,tape,0.0625 in,0.03125 in,0 in,0 in,0 in
micrometer,micrometer,0.001 mm,0.004 mm,0 mm,0 mm,0 mm
,stopwatch,0 s,0 s,0.2 s,0 s,0 s
,thermometer,0 C,0 C,0 C,0 C,0.5 C
""",
    "laboratory": """scale,scale,0.001 g,0.002 g,0.001 g,0 g,0 g
tape,tape,0.5 mm,0.3 mm,0 mm,0 mm,0 mm
micrometer,micrometer,0.001 mm,0.002 mm,0.001 mm,0 mm,0 mm
,stopwatch,0.01 s,0 s,0.1 s,0 s,0 s
,thermometer,0.1 C,0.1 C,0 C,0 C,0 C
""",
}


def quality_file(quality):
    return ",".join(COLUMNS) + "\n" + QUALITIES[quality]


@dataclasses.dataclass
class Instrument:
    code: str
    kind: str
    unit: str        # of its readings
    resolution: float = 0.0
    limit: float = 0.0
    repeatability: float = 0.0
    offset: float = 0.0
    offset_u: float = 0.0

    def shared_error(self, rng, count):
        """What all readings of one bench are wrong by, for `count` benches."""
        return rng.uniform(-self.limit, self.limit, count) + self.offset_u * rng.normal(size=count)

    def read(self, rng, true, shared):
        """What the display shows: rounded to the resolution, offset included."""
        shown = true + self.offset + shared + self.repeatability * rng.normal(size=np.shape(true))
        return np.round(shown / self.resolution) * self.resolution if self.resolution else shown

    def sd(self):
        """Standard uncertainty of one reading, all errors together."""
        return math.sqrt(self.resolution**2 / 12 + self.repeatability**2 + self.limit**2 / 3
                         + self.offset_u**2)


def instruments_from(path):
    """One instrument of each kind, the first that the file has, by kind."""
    found = {}
    with open(path, encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            units = UNITS[row["kind"]]

            def figure(column):
                number, unit = (row.get(column) or "0 " + next(iter(units))).split()
                return float(number) * units[unit]
            unit = row["resolution"].split()[1]
            found.setdefault(row["kind"], Instrument(row["code"], row["kind"], unit,
                                                     *(figure(column) for column in COLUMNS[2:])))
    missing = set(UNITS) - set(found)
    if missing:
        raise SystemExit(f"{path}: no {', '.join(sorted(missing))}; figures need their unit")
    return found


# --- Sink rates of many lines at once. ---

class SinkRates:
    """Reynolds numbers over Best numbers from a table, since Newton for millions is slow.

    Same physics as line_physics.py: C_D(Re) Re^2 = pi/2 g d^3 |rho/rho_w - 1| / nu^2.
    The table's steps of 1/400 in ln Re leave an error below 1e-5.
    """

    def __init__(self):
        self.ln_re = np.arange(-12.0, 10.0, 0.0025)
        re = np.exp(self.ln_re)
        drag = (11 * re**-0.75 + 0.9 * (1 - np.exp(-1000 / re))
                + 1.2 * (1 - np.exp(-((re / 4500) ** 0.7))))
        self.ln_best = np.log(drag) + 2 * self.ln_re
        self.slope = np.gradient(np.log(drag), self.ln_re)

    def __call__(self, x, y, celsius=10.0):
        """(rate in m/s, positive downwards; relative uncertainty of the drag law, sink_rate.h)."""
        water = np.vectorize(water_density)(celsius)
        nu = np.vectorize(water_viscosity)(celsius) / water
        thick = 1e-3 * np.exp(0.5 * (x - y) + LN_DIAMETER)
        excess = 1000 * np.exp(y) / water - 1
        ln_best = np.log(0.5 * math.pi * GRAVITY * thick**3 * np.abs(excess) / nu**2)
        ln_re = np.interp(ln_best, self.ln_best, self.ln_re)
        way = np.clip((ln_re - math.log(20)) / math.log(20), 0, 1)  # 20 to 400
        drag_u = 0.09 + way * (0.045 - 0.09)
        uncertainty = drag_u / (2 + np.interp(ln_re, self.ln_re, self.slope))
        return np.sign(excess) * np.exp(ln_re) * nu / thick, uncertainty


# --- The bin. ---

@dataclasses.dataclass
class Plan:
    """What is read of every coil, and how."""
    coils: int
    readings: set
    sample_length: float
    diameters: int
    coils_per_bench: int
    foreign: float | None   # share of coils that are no listed class; None: as the library weighs
    clear: float            # standard deviations from every listed class of a clearly foreign coil


class Bin:
    """True coils and what was read of them; arrays with one entry a coil, nan where not read."""

    def __init__(self, rng, classes, instruments, plan):
        self.classes, self.instruments, self.plan = classes, instruments, plan
        self.draw_coils(rng)
        self.take_readings(rng)
        self.clearly_foreign = self.find_clearly_foreign()

    def draw_coils(self, rng):
        n, classes, plan = self.plan.coils, self.classes, self.plan
        weight = classes.weight.copy()
        if plan.foreign is not None:
            weight[classes.unlisted] = 0
            weight *= (1 - plan.foreign) / weight.sum()
            weight[classes.unlisted] = plan.foreign
        self.k = k = rng.choice(len(classes), n, p=weight)
        # A Student's t is a normal over the root of a chi-square per degree of freedom; scaled so
        # that its standard deviation is the class's.
        dof = classes.dof[k]
        finite = np.isfinite(dof)
        stretch = np.ones(n)
        stretch[finite] = np.sqrt((dof[finite] - 2) / rng.chisquare(dof[finite]))
        a, b = rng.normal(size=(2, n))
        self.x = classes.mx[k] + classes.sx[k] * stretch * a
        self.y = classes.my[k] + classes.sy[k] * stretch * (
            classes.corr[k] * a + np.sqrt(1 - classes.corr[k] ** 2) * b)
        self.u = 0.5 * (self.x - self.y) + LN_DIAMETER
        self.tapered = rng.random(n) < classes.tapered[k]
        self.tint = (rng.random((n, 1)) > np.cumsum(classes.tints[k], axis=1)[:, :-1]).sum(axis=1)
        usual = np.array([rng.choice(classes.usual[i]) * math.exp(classes.usual_sd[i] * rng.normal())
                          if len(classes.usual[i]) and rng.random() < USUAL_LENGTH_SHARE else np.nan
                          for i in k])
        anything = SHORTEST * np.exp(rng.random(n) * math.log(LONGEST / SHORTEST))
        self.length = np.where(np.isnan(usual), anything, usual)
        self.sinks = SinkRates()
        rate, drag_u = self.sinks(self.x, self.y)
        self.ln_drag_error = drag_u * rng.normal(size=n)
        self.sink_rate = rate * np.exp(self.ln_drag_error)  # still fresh water at 10 C

    def take_readings(self, rng):
        plan, n = self.plan, self.plan.coils
        scale, tape, micrometer, watch, thermometer = (
            self.instruments[kind] for kind in UNITS)
        bench = np.arange(n) // plan.coils_per_bench
        shared = {kind: each.shared_error(rng, n)[bench] for kind, each in self.instruments.items()}
        linear = np.exp(self.x) * GRAIN_PER_FOOT
        never = np.full(n, np.nan)
        self.whole_length = self.whole_weight = self.sample_length = self.sample_weight = never
        self.submerged_weight = self.sink_time = self.temperature = never
        self.diameters, self.floats = np.empty((n, 0)), None
        celsius = rng.uniform(8, 17, n)

        if "whole_length" in plan.readings:
            self.whole_length = tape.read(rng, self.length, shared["tape"])
        if "whole_weight" in plan.readings:
            self.whole_weight = scale.read(rng, linear * self.length, shared["scale"])
        if "sample_weight" in plan.readings:
            self.weigh_samples(rng, linear, shared, celsius)
        if "diameters" in plan.readings:
            squeeze = SOFT_COATING * rng.normal(size=n) + shared["micrometer"]
            uneven = TAPERED_DIAMETER_SD * rng.normal(size=(n, plan.diameters))
            thick = 1e-3 * np.exp(self.u[:, None] + np.where(self.tapered[:, None], uneven, 0))
            self.diameters = micrometer.read(rng, thick, squeeze[:, None])
            # A display of nothing is no reading: a strand that thin is measured doubled in practice;
            # here it is read again as the smallest step.
            self.diameters = np.maximum(self.diameters, micrometer.resolution or 1e-7)
        if "sink_time" in plan.readings:
            self.drop(rng, watch, tape, shared, celsius)
        if {"submerged_weight", "sink_time"} & plan.readings:
            self.temperature = thermometer.read(rng, celsius, shared["thermometer"])
        if "floats" in plan.readings:
            lighter = np.exp(self.y) * 1000 < water_density(10.0)
            self.floats = lighter ^ (rng.random(n) < FLOATING_MISJUDGED)

    def weigh_samples(self, rng, linear, shared, celsius):
        """A piece cut by eye, to 5 %, or the whole coil where that is shorter and was taped.

        A display of fewer than three steps, or below 2.5 times its limit of error, is not written
        down: the person weighs twice as long a piece.
        """
        scale, tape = self.instruments["scale"], self.instruments["tape"]
        n = self.plan.coils
        whole_is_taped = "whole_length" in self.plan.readings
        whole = self.whole_length if whole_is_taped else np.full(n, USUAL_TIP)
        # How far the piece differs from the coil: one draw a coil, in standard deviations.
        differs = rng.normal(size=n)
        piece = self.plan.sample_length * rng.uniform(0.95, 1.05, n)
        length, weight, submerged = np.empty((3, n))
        todo = np.arange(n)
        for _ in range(12):
            if whole_is_taped:
                piece[todo] = np.minimum(piece[todo], self.length[todo])
            taped = tape.read(rng, piece[todo], shared["tape"][todo])
            missing = np.maximum(0.1, 1 - taped / whole[todo])
            off = np.where(self.tapered[todo], missing * TAPERED_SAMPLE_SD * differs[todo], 0)
            mass = linear[todo] * piece[todo] * np.exp(off)
            length[todo] = taped
            weight[todo] = scale.read(rng, mass, shared["scale"][todo])
            lifted = 1 - np.vectorize(water_density)(celsius[todo]) / (1000 * np.exp(self.y[todo]))
            submerged[todo] = scale.read(rng, mass * lifted, shared["scale"][todo])
            least = max(2.999 * scale.resolution, 2.5 * scale.limit) + scale.offset
            todo = todo[weight[todo] < least]
            if not len(todo):
                break
            piece[todo] *= 2
        self.sample_length, self.sample_weight = length, weight
        if "submerged_weight" in self.plan.readings:
            # What hangs from a scale and floats has no weight there: nothing is written down.
            sinks = (np.exp(self.y) * 1000 > water_density(8.0)) & (submerged > 0)
            self.submerged_weight = np.where(sinks, submerged, np.nan)

    def drop(self, rng, watch, tape, shared, celsius):
        """A timed drop over 24 in, of what sinks at half an inch a second at least."""
        distance = 24 * INCH
        self.sink_distance = tape.read(rng, np.full(self.plan.coils, distance), shared["tape"])
        rate, _ = self.sinks(self.x, self.y, celsius)
        rate = rate * np.exp(self.ln_drag_error)
        with np.errstate(divide="ignore"):
            time = watch.read(rng, distance / rate, shared["stopwatch"])
        self.sink_time = np.where((rate > 0.5 * INCH) & (time > 0), time, np.nan)

    def find_clearly_foreign(self):
        """Unlisted coils that lie `plan.clear` standard deviations or more from every listed class.

        Distance of the true (x, u) by the class's spread and the reading errors to first order, so
        that a clearly foreign coil is one that a person with these readings can call foreign.
        """
        n, classes = self.plan.coils, self.classes
        vx, vu = np.full(n, np.inf), np.full(n, np.inf)
        if "sample_weight" in self.plan.readings:
            whole = (self.whole_length if "whole_length" in self.plan.readings
                     else np.full(n, USUAL_TIP))
            missing = np.maximum(0.1, 1 - self.sample_length / whole)
            vx = ((self.instruments["scale"].sd() / self.sample_weight) ** 2
                  + (self.instruments["tape"].sd() / self.sample_length) ** 2
                  + np.where(self.tapered, (missing * TAPERED_SAMPLE_SD) ** 2, 0))
        if self.diameters.shape[1]:
            sd = math.hypot(self.instruments["micrometer"].sd(), SOFT_COATING)
            vu = ((sd / self.diameters.mean(axis=1)) ** 2
                  + np.where(self.tapered, TAPERED_DIAMETER_SD**2 / self.plan.diameters, 0))
        clear = self.k == classes.unlisted
        for k in range(len(classes)):
            if k == classes.unlisted:
                continue
            cov = covariance_in_x_and_u(classes, k)
            a, b, c = cov[0, 0] + vx, cov[0, 1], cov[1, 1] + vu
            dx = self.x - classes.mx[k]
            du = self.u - (0.5 * (classes.mx[k] - classes.my[k]) + LN_DIAMETER)
            with np.errstate(invalid="ignore"):
                distance = (c * dx**2 - 2 * b * dx * du + a * du**2) / (a * c - b * b)
            clear &= ~(np.nan_to_num(distance, nan=0.0) < self.plan.clear**2)
        return clear

    # --- Writing it down. ---

    def codes(self):
        return [f"A{i + 1:06d}" for i in range(self.plan.coils)]

    def write_readings(self, path):
        scale, tape, micrometer = (self.instruments[kind] for kind in ("scale", "tape", "micrometer"))

        def cells(values, unit):
            return ["" if math.isnan(value) else f"{value / unit:.10g}" for value in values]
        mass, length, thick = (UNITS[each.kind][each.unit] for each in (scale, tape, micrometer))
        columns = {"code": self.codes()}
        if "sample_weight" in self.plan.readings:
            columns[f"sample_length [{tape.unit}]"] = cells(self.sample_length, length)
            columns[f"sample_weight [{scale.unit}]"] = cells(self.sample_weight, mass)
        if self.diameters.shape[1]:
            columns[f"diameters [{micrometer.unit}]"] = [
                " ".join(cells(row, thick)) for row in self.diameters]
        if "submerged_weight" in self.plan.readings:
            columns[f"submerged_weight [{scale.unit}]"] = cells(self.submerged_weight, mass)
        if "sink_time" in self.plan.readings:
            columns[f"sink_distance [{tape.unit}]"] = cells(self.sink_distance, length)
            columns["sink_time [s]"] = cells(self.sink_time, 1.0)
        if {"submerged_weight", "sink_time"} & self.plan.readings:
            columns["water_temperature [C]"] = cells(self.temperature, 1.0)
        if "tint" in self.plan.readings:
            columns["tint"] = [TINTS[i] for i in self.tint]
        if "taper" in self.plan.readings:
            columns["taper"] = ["tapered" if each else "level" for each in self.tapered]
        if "whole_length" in self.plan.readings:
            columns[f"whole_length [{tape.unit}]"] = cells(self.whole_length, length)
        if "whole_weight" in self.plan.readings:
            columns[f"whole_weight [{scale.unit}]"] = cells(self.whole_weight, mass)
        if self.floats is not None:
            columns["floats"] = ["yes" if each else "no" for each in self.floats]
        for each in (scale, tape, micrometer):
            columns[each.kind] = [each.code] * self.plan.coils
        write_columns(path, columns)

    def write_truth(self, path, answers=None):
        classes = self.classes
        columns = {"code": self.codes(), "class": [classes.names[i] for i in self.k]}
        for facet in FACETS:
            columns[facet] = [classes.facets[facet][i] for i in self.k]
        columns["grains_per_foot"] = [f"{each:.8g}" for each in np.exp(self.x)]
        columns["diameter_mm"] = [f"{each:.8g}" for each in np.exp(self.u)]
        columns["density_g_cm3"] = [f"{each:.8g}" for each in np.exp(self.y)]
        columns["sink_rate_in_s"] = [f"{each / INCH:.8g}" for each in self.sink_rate]
        columns["clearly_foreign"] = ["yes" if each else "no" for each in self.clearly_foreign]
        write_columns(path, {**columns, **(answers or {})})


def covariance_in_x_and_u(classes, k):
    """Of class k, in (x, u); u is half of x - y."""
    sx, sy, corr = classes.sx[k], classes.sy[k], classes.corr[k]
    return np.array([[sx * sx, 0.5 * (sx * sx - corr * sx * sy)],
                     [0.5 * (sx * sx - corr * sx * sy),
                      0.25 * (sx * sx - 2 * corr * sx * sy + sy * sy)]])


def write_columns(path, columns):
    with open(path, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows(zip(*columns.values()))
