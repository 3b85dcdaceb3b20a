"""A train's problem, read straight from its train file.

Frame and signs: x along the train, y to the left, z up, z = 0 at the shim
plane. A machine moved by (axial, left, up) and turned by (roll, pitch, yaw)
shifts its point (x, y, z), x counted from the middle of its feet, by

    along  axial + pitch z - yaw y
    left   left  + yaw x   - roll z
    up     up    + roll y  - pitch x

A machine on a base is moved by both: first on the base, by its own feet, and
then with it, as the same formulas say of its point seen from the base. What is
between the two, packs and holes, is its own motion's alone; so is a coupling
between two machines of one base, which the base takes along whole.

Everything here is in mm and mrad, and levers are in m, so that an angle times
a lever is a move in mm. A problem holds variables v and two kinds of limit:

    Box   lo <= a . v + b <= hi
    Ball  |A v + b| <= radius + head . v   (one row: an interval; two: a disc; three: a ball)

A ball with `scaled` set belongs to a coupling: its radius is multiplied by the
use that is asked for. The cost is the sum of weight |v|.

Shares that are limited together are sums of such lengths, each with a variable
of its own (kind "share", no weight) in its `head`, which is at least as large.
"""

import tomllib
from dataclasses import dataclass, field

import numpy as np

import readings

# 1e-6 per deg F, as the project's page of published figures gives them.
COEFFICIENTS = {"steel": 6.3, "cast iron": 6.3, "general steel and iron frames": 6.3,
                "grey iron": 6.0, "grey cast iron": 6.0}


@dataclass
class Variable:
    name: str
    machine: str
    kind: str  # "up", "left" or "axial"
    weight: float  # cost of one mm of it
    step: float  # mm, of the lattice it is set on; 0: none
    feet: list = field(default_factory=list)  # indices into the machine's feet


@dataclass
class Box:
    kind: str
    where: str
    a: np.ndarray
    b: float
    lo: float
    hi: float


@dataclass
class Ball:
    kind: str
    where: str
    A: np.ndarray
    b: np.ndarray
    radius: float
    scaled: bool = False
    head: np.ndarray | None = None  # by variable, what is added to the radius

    def size(self, v):
        """How much of the radius is used."""
        return float(np.linalg.norm(self.A @ v + self.b))


@dataclass
class Foot:
    name: str
    x: float  # mm, own stations
    y: float
    keys: dict  # as written, with what differs at this side


class Form:
    """A number that depends linearly on the variables: row . v + constant."""

    def __init__(self, row, constant=0.0):
        self.row, self.constant = row, constant

    def __add__(self, other):
        if isinstance(other, Form):
            return Form(self.row + other.row, self.constant + other.constant)
        return Form(self.row, self.constant + other)

    __radd__ = __add__

    def __mul__(self, k):
        return Form(self.row * k, self.constant * k)

    __rmul__ = __mul__

    def __neg__(self):
        return self * -1

    def __sub__(self, other):
        return self + -1 * other


class Machine:
    """One machine: its feet, its variables and its rigid motion as forms."""

    def __init__(self, keys, units):
        self.keys = keys
        self.name = keys["name"]
        self.length, self.move = units
        self.at = keys.get("at", 0) * self.length
        self.height = keys["height"] * self.length
        self.held = keys.get("hold", False)
        self.slides = {}  # foot: left per share of growth, in mm, where the foot's own warming is stated
        self.feet = [f for k in keys.get("foot", []) for f in self.split(k)]
        xs = [f.x for f in self.feet]
        self.middle = float(np.mean(xs)) if xs else 0.0
        self.stations = sorted(set(xs))
        self.growth = self.read_growth(keys)
        self.base = None  # what it stands on; None: the ground
        self.line = (0.0, 0.0)  # mm left and up, its centreline at its shim plane, were the train in line

    def split(self, k):
        x = k["x"] * self.length
        if "spread" not in k:
            return [Foot(k["name"], x, k["y"] * self.length, k)]
        half = k["spread"] * self.length / 2
        return [Foot(k["name"] + " left", x, half, {**k, **k.get("left", {})}),
                Foot(k["name"] + " right", x, -half, {**k, **k.get("right", {})})]

    # -- growth ---------------------------------------------------------

    def read_growth(self, keys):
        """(v, h, a) at a station in mm, and the roll of the case in mrad."""
        if any("rise" in f.keys for f in self.feet):
            return self.growth_by_rise()
        if any("running" in p for p in keys.get("point", [])):
            raise ValueError("growth by points measured running is not read here")
        return line(keys.get("growth", []), self.length, self.move), 0.0

    def growth_by_rise(self):
        fahrenheit = self.move != 1
        v = []
        for f in self.feet:
            c = COEFFICIENTS[f.keys["material"]] * (1 if fahrenheit else 1.8) * 1e-6
            height = f.keys["height"] * self.length if "height" in f.keys else self.height
            v.append(c * f.keys["rise"] * height)
            self.slides[id(f)] = c * f.keys["rise"] * f.y
        fit = np.linalg.pinv(np.array([[1, f.x, f.y / 1000] for f in self.feet])) @ v
        return (lambda x: np.array([fit[0] + fit[1] * x, 0, 0])), fit[2]

    # -- variables and motion -------------------------------------------

    def variables(self, step, resolution):
        if self.held:
            return []
        if "step" in self.keys:  # 0: chocks or wedges, set as finely as a size is told
            step = self.keys["step"] * self.move or resolution
        self.step = step
        effort = self.keys.get("effort", 1)
        out = []
        if self.keys.get("roll", False):
            groups = [[i] for i in range(len(self.feet))]
        else:
            groups = [[i for i, f in enumerate(self.feet) if f.x == x] for x in self.stations]
        for g in groups:
            out.append(Variable(f"up at {self.feet[g[0]].name}", self.name, "up", effort * len(g), step, g))
        for x in self.stations:
            g = [i for i, f in enumerate(self.feet) if f.x == x]
            out.append(Variable(f"left at {self.feet[g[0]].name}", self.name, "left", effort * len(g), resolution, g))
        if self.keys.get("axial", False):
            n = len(self.feet)
            out.append(Variable("axial", self.name, "axial", effort * n, resolution, list(range(n))))
        return out

    def place(self, variables, total):
        """Forms of the rigid motion and of each foot, from these variables,
        which start at `first` of `total`."""
        zero = np.zeros(total)
        self.up = [Form(zero.copy()) for _ in self.feet]
        self.left = [Form(zero.copy()) for _ in self.feet]
        self.axial = Form(zero.copy())
        for j, v in variables:
            if v.kind == "axial":
                self.axial.row[j] = 1
                continue
            for i in v.feet:
                (self.up if v.kind == "up" else self.left)[i].row[j] = 1
        self.roll = self.pitch = self.yaw = Form(zero)
        self.rise = self.aside = Form(zero)  # up and left at the middle of the feet
        self.soft, self.bend = [], []
        if self.held:
            return
        x = np.array([(f.x - self.middle) / 1000 for f in self.feet])
        y = np.array([f.y / 1000 for f in self.feet])
        if len(self.stations) < 2:
            raise ValueError(f"{self.name}: feet at one station leave its pitch open")
        plane = np.column_stack([np.ones_like(x), -x, y])
        if np.linalg.matrix_rank(plane, tol=1e-9) < 3:
            plane = plane[:, :2]
        packs = np.array([f.row for f in self.up])
        fit = np.linalg.pinv(plane)
        got = fit @ packs
        self.rise, self.pitch = Form(got[0]), Form(got[1])
        if len(got) > 2:
            self.roll = Form(got[2])
        leverage = np.einsum("ij,ji->i", plane, fit)
        residual = packs - plane @ got
        for i, h in enumerate(leverage):
            if h < 1 - 1e-9:
                self.soft.append((i, Form(residual[i] / (1 - h))))
        track = np.column_stack([np.ones_like(x), x])
        sides = np.array([f.row for f in self.left])
        got = np.linalg.pinv(track) @ sides
        self.aside, self.yaw = Form(got[0]), Form(got[1])
        if len(self.stations) > 2:
            self.bend = [(i, Form(r)) for i, r in enumerate(sides - track @ got)]

    def carried(self, x, y, z):
        """(along, left, up) of a point in mm, in own stations, its base's motion included."""
        own = self.shift(x, y, z)
        if self.base is None:
            return own
        b = self.base
        taken = b.shift(x + self.at - b.at, y + self.line[0] - b.line[0], z + self.line[1] - b.line[1])
        return tuple(a + t for a, t in zip(own, taken))

    def shift(self, x, y, z):
        """(along, left, up) of a point in mm, in own stations."""
        x, y, z = (x - self.middle) / 1000, y / 1000, z / 1000
        return (self.axial + self.pitch * z - self.yaw * y,
                self.aside + self.yaw * x - self.roll * z,
                self.rise + self.roll * y - self.pitch * x)


def clean(row):
    """Rows without rounding dust, which spoils how an LP solver scales."""
    return np.where(np.abs(row) < 1e-12, 0, row)


def line(stations, length, move):
    """(v, h, a) in mm as a function of the own station in mm."""
    if not stations:
        return lambda x: np.zeros(3)
    p = [(s.get("x", 0) * length, np.array([s.get(k, 0) * move for k in "vha"])) for s in stations]
    if any("y" in s for s in stations):
        raise ValueError("growth measured beside the centreline is not read here")
    if len(p) == 1:
        return lambda x: p[0][1]
    if len(p) > 2:
        a = np.array([[1, x] for x, _ in p])
        fit = np.linalg.lstsq(a, np.array([v for _, v in p]), rcond=None)[0]
        return lambda x: fit[0] + fit[1] * x
    (x0, a), (x1, b) = p
    return lambda x: a + (b - a) * (x - x0) / (x1 - x0)


class Shaft:
    """A shaft of a machine, as a coupling sees it."""

    def __init__(self, machine, name):
        m = self.machine = machine
        shafts = m.keys.get("shaft", [])
        if name is None and len(shafts) > 1:
            raise ValueError(f"{m.name} has several shafts")
        keys = shafts[0] if shafts and name is None else next((s for s in shafts if s["name"] == name), {})
        if name is not None and not keys:
            raise ValueError(f"{m.name} has no shaft {name}")
        self.rpm = keys.get("rpm", m.keys.get("rpm"))
        self.y = keys.get("y", 0) * m.length
        self.z = m.height + keys.get("z", 0) * m.length
        run = (keys or m.keys).get("run", {})
        # What errors add, in the file's moves (chance.py): growth v, h, a and journal shift v, h.
        self.more = np.array(m.keys.get("more_growth", [0, 0, 0])) * m.move
        run = {k: run.get(k, 0) + d for k, d in zip("vh", (keys or m.keys).get("more_run", [0, 0]))}
        self.run = np.array([run.get("v", 0), run.get("h", 0)]) * m.move
        if keys.get("growth"):
            self.growth = (line(keys["growth"], m.length, m.move), 0.0)
        else:
            self.growth = m.growth

    def stand(self, station, growth, run, own=None, carried=True):
        """Forms (v, h, d) of the shaft at a train station: moved by the plan,
        with its base or on it alone, by a share of growth and a share of its
        running shift."""
        x = station - self.machine.at
        d, h, v = (self.machine.carried if carried else self.machine.shift)(x, self.y, self.z)
        g, roll = self.growth
        gv, gh, ga = g(x)
        gv, gh, ga = np.array([gv, gh, ga]) + self.more
        if own is not None:
            # The condition has growth of its own, all of it; growth is minus what was there when it was read.
            ov, oh, oa = own(x)
            v, h, d = v + ov, h + oh, d + oa
        v = v + growth * (gv + roll * self.y / 1000) + run * self.run[0]
        h = h + growth * (gh - roll * self.z / 1000) + run * self.run[1]
        return v, h, d + growth * ga


class Problem:
    def __init__(self, keys):
        self.keys = keys
        inch = keys["units"] == "inch"
        self.length, self.move = (25.4, 0.0254) if inch else (1.0, 1.0)
        shims = keys.get("shims", {})
        self.step = shims.get("step", 1 if inch else 0.05) * self.move
        self.flat = shims["flat"] * self.move if "flat" in shims else None
        self.keep = shims.get("keep", 0) * self.move
        self.resolution = 0.5 * self.move if inch else 0.01
        self.touch = keys.get("aim", {}).get("touch", 0) * self.move
        self.least_move = keys.get("aim", {}).get("least_move", 0) * self.move
        self.machines = [Machine(m, (self.length, self.move)) for m in keys["machine"]]
        self.bases = [Machine(b, (self.length, self.move)) for b in keys.get("base", [])]
        self.carry(keys)
        self.machines += self.bases
        self.variables = [v for m in self.machines for v in m.variables(self.step, self.resolution)]
        self.conditions = self.read_conditions()
        self.transient = keys.get("aim", {}).get("transient")
        self.boxes, self.balls, self.shares = [], [], []
        self.variables += self.share_variables()
        n = len(self.variables)
        for m in self.machines:
            m.place([(j, v) for j, v in enumerate(self.variables) if v.machine == m.name], n)
        for m in self.machines:
            if not m.held:
                self.machine_limits(m)
            if not m.held or m.base is not None and not m.base.held:
                self.place_limits(m)
        for c in keys.get("coupling", []):
            self.coupling_limits(c)
        assert len(self.shares) == sum(v.kind == "share" for v in self.variables)

    @property
    def cost(self):
        return np.array([v.weight for v in self.variables])

    def box(self, kind, where, form, lo, hi):
        if np.isfinite(lo) or np.isfinite(hi):
            self.boxes.append(Box(kind, where, clean(form.row), form.constant, lo, hi))

    def ball(self, kind, where, forms, radius, scaled=False):
        self.balls.append(Ball(kind, where, clean(np.array([f.row for f in forms])),
                               np.array([f.constant for f in forms]), radius, scaled))

    # -- bases ------------------------------------------------------------

    def carry(self, keys):
        """Stands machines on their bases. Were all couplings in line, a shaft would go on where the last one ends;
        that says how far left and up each machine's centreline and shim plane are. A base lies under the centreline of
        the first machine that it carries, its `height` below that machine's shim plane."""
        if not self.bases:
            return
        placed, open_ = {self.machines[0].name}, list(keys["coupling"])
        while open_:
            c = next(c for c in open_ if self.shaft(c["from"]).machine.name in placed
                     or self.shaft(c["to"]).machine.name in placed)
            open_.remove(c)
            a, b = self.shaft(c["from"]), self.shaft(c["to"])
            if a.machine.name not in placed:
                a, b = b, a
            y, z = a.machine.line
            b.machine.line = (y + a.y - b.y, z + a.z - b.z)
            placed.add(b.machine.name)
        for b in self.bases:
            on = [m for m in self.machines if m.name in b.keys["machines"]]
            for m in on:
                m.base = b
            b.line = (on[0].line[0], on[0].line[1] - b.height)

    # -- what a machine's feet, bolts and pipes allow --------------------

    def machine_limits(self, m):
        inf = float("inf")
        if m.keys.get("axial", False) and not m.held and not any("bolt" in f.keys and "hole" in f.keys for f in m.feet):
            most = self.keys.get("relief", {}).get("axial_most", 3 if self.move == 1 else 120) * self.move
            self.box("shift", m.name, m.axial, -most, most)
        for f, up, left in zip(m.feet, m.up, m.left):
            k, where = f.keys, f"{m.name} {f.name}"
            lower = k["shim"] * self.move - self.keep if "shim" in k else inf
            if "lower" in k:
                lower = k["lower"] * self.move
            self.box("pack", where, up, -lower, k.get("raise", inf) * self.move)
            t = k.get("travel", {})
            self.box("travel", where, left, -t.get("right", inf) * self.move, t.get("left", inf) * self.move)
            if "fit" in k:
                raise ValueError(f"{where}: holes by fit are not read here")
            if "bolt" in k and "hole" in k:
                at = np.array(k.get("bolt_at", [0, 0])) * self.length
                travel = (k["hole"] - k["bolt"]) * self.length / 2 - k.get("free", 0) * self.move
                # The hole goes where the machine goes, which with three
                # stations is not quite what is set at each of them.
                along, across, _ = m.shift(f.x, f.y, 0)
                self.ball("bolt", where, [along - at[0], across - at[1]], travel)
                self.box("bolt", where, left, at[1] - travel, at[1] + travel)
                for slide in self.slides(m, f):
                    hot = at - slide
                    self.ball("bolt", where + ", hot", [along - hot[0], across - hot[1]], travel)
                    self.box("bolt", where + ", hot", left, hot[1] - travel, hot[1] + travel)
        flat = self.flat if self.flat is not None else m.step * (0.5 if len(m.stations) == 2 else 1)
        if "flat" in m.keys:
            flat = m.keys["flat"] * self.move
        for i, form in m.soft:
            self.box("flat", f"{m.name} {m.feet[i].name}", form, -flat, flat)
        for i, form in m.bend:
            self.box("bend", f"{m.name} {m.feet[i].name}", form, -self.resolution, self.resolution)

    def place_limits(self, m):
        """Limits to where a machine comes to be, with its base: level and nozzles."""
        level = m.keys.get("level", {})
        for key in ("pitch", "roll"):
            if key in level:
                form = getattr(m, key) + level.get("found", {}).get(key, 0)
                if m.base is not None:
                    form = form + getattr(m.base, key)
                self.ball("level", f"{m.name} {key}", [form], level[key])
        for n in m.keys.get("nozzle", []):
            if "limit" in n:
                point = m.carried(*(n.get(c, 0) * self.length for c in "xyz"))
                self.ball("nozzle", f"{m.name} {n['name']}", point, n["limit"] * self.move)

    def slides(self, m, f):
        """How far (along, left) in mm a foot slides on its base in every condition."""
        out = []
        for _, growth, _, _, own in self.conditions:
            if m.name in own:
                out.append(np.array([own[m.name](f.x)[2], 0]))
            else:
                out.append(growth[m.name] * np.array([m.growth[0](f.x)[2], m.slides.get(id(f), 0)]))
        return [s for s in out if np.any(s)]

    # -- couplings ------------------------------------------------------

    def read_conditions(self):
        """(name, share of growth by machine, share of run, use, growth of its own by machine)"""
        out = []
        listed = self.keys.get("condition", [])
        if not any(c["name"] == "running" for c in listed):
            listed = [{"name": "running", "growth": 1, "run": 1, "use": 1}] + listed
        for c in listed:
            share, own = c.get("growth", 1), {}
            if isinstance(share, list):
                for name in {g["machine"] for g in share}:
                    own[name] = line([g for g in share if g["machine"] == name], self.length, self.move)
                share = 1
            growth = {m.name: c.get("machine", {}).get(m.name, share) for m in self.machines}
            out.append((c["name"], growth, c.get("run", 1), c.get("use", 1), own))
        return out

    def shaft(self, text):
        for m in self.machines:
            if text == m.name:
                return Shaft(m, None)
            if text.startswith(m.name + "/"):
                return Shaft(m, text[len(m.name) + 1:])
        raise ValueError(f"no machine {text}")

    def limit(self, c, from_, to):
        if c.get("limit", {}).get("published") == "spacer":
            return c["limit"] | {"angle": 0.5}
        if "limit" in c:
            return c["limit"]
        rpm = c.get("rpm") or max(s.rpm for s in (from_, to) if s.rpm)
        band = min((b for b in self.keys.get("band", []) if b["up_to_rpm"] >= rpm), key=lambda b: b["up_to_rpm"])
        if "flex" in c:
            return {"angle": band["flex_angle"]}
        return {"offset": band["offset"], "angle": band["angle"]}

    def misalignment(self, c, condition):
        """Forms: vertical and horizontal offset as a function of the station,
        the two angles, and the change of the distance between shaft ends, in a
        condition (None: as found)."""
        from_, to = self.shaft(c["from"]), self.shaft(c["to"])
        taken = c.get("found", {}).get("taken", {})
        x0 = c["x"] * self.length
        apart = from_.machine.base is None or from_.machine.base is not to.machine.base

        def stand(s, x):
            if condition is None:
                return s.stand(x, 0, 0, None, apart)
            _, growth, run, _, own = condition
            name, run = s.machine.name, run - taken.get("run", 0)
            if name in own:
                return s.stand(x, -taken.get("growth", 0), run, own[name], apart)
            return s.stand(x, growth[name] - taken.get("growth", 0), run, None, apart)

        found = readings.found(c, self.length, self.move, self.keys["machine"])

        def offset(plane, x):
            k = "vh"[plane]
            start, slope = found[k]["offset"] * self.move, found[k]["angle"]
            return stand(to, x)[plane] - stand(from_, x)[plane] + (start + slope * (x - x0) / 1000)

        def angle(plane):
            return (offset(plane, x0 + 1000) - offset(plane, x0))  # mm over one metre

        ends = [p * self.length for p in c["flex"]] if "flex" in c else [x0, x0]
        gap = stand(to, ends[1])[2] - stand(from_, ends[0])[2]
        return offset, angle, gap

    def engagements(self, c, condition):
        """(kind, vertical form, horizontal form) of each limited pair of a
        coupling in a condition, what is wanted taken off."""
        offset, angle, _ = self.misalignment(c, condition)
        x0 = c["x"] * self.length
        want = {k: {"offset": 0, "angle": 0} for k in "vh"}
        if condition[0] == "running":
            want |= c.get("wanted", {})

        def off(plane, x):
            w = want["vh"[plane]]
            return offset(plane, x) - (w.get("offset", 0) * self.move + w.get("angle", 0) * (x - x0) / 1000)

        if "flex" in c:
            x1, x2 = (p * self.length for p in c["flex"])
            k = 1000 / (x2 - x1)
            return [("flex 1", k * off(0, x2), k * off(1, x2)), ("flex 2", -k * off(0, x1), -k * off(1, x1))]
        slope = [angle(p) - want["vh"[p]].get("angle", 0) for p in (0, 1)]
        return [("offset", off(0, x0), off(1, x0)), ("angle", slope[0], slope[1])]

    def coupling_limits(self, c):
        limit = self.limit(c, self.shaft(c["from"]), self.shaft(c["to"]))
        for condition in self.conditions:
            self.within(c, limit, condition, f"{c['name']}, {condition[0]}", condition[3], True)
        for n, state in enumerate(self.warm_up(c)):
            self.within(c, limit, state, f"{c['name']}, warm-up {n}", self.transient, False)

    def within(self, c, limit, condition, where, use, scaled):
        """A coupling's limits in a condition, each by itself and, where they are combined, their shares together."""
        shares = {}
        for kind, v, h in self.engagements(c, condition):
            r = limit["offset"] * self.move if kind == "offset" else limit["angle"]
            if limit.get("each_plane", False):
                self.ball(kind + " vertical", where, [v], r * use, scaled)
                self.ball(kind + " horizontal", where, [h], r * use, scaled)
                shares[kind] = [([v], r), ([h], r)]
            else:
                self.ball(kind, where, [v, h], r * use, scaled)
                shares[kind] = [([v, h], r)]
        if (gaps := self.gaps(c, limit)) is not None:
            found, wanted, most = gaps
            _, _, change = self.misalignment(c, condition)
            gap = [change + (found - wanted)]
            self.ball("gap", where, gap, most * use, scaled)
            shares["gap"] = [(gap, most)]
        if limit.get("combined") == "sum":
            self.together(c, shares, where, use, scaled)

    def gaps(self, c, limit):
        """Distance between shaft ends found, wanted and its limit in mm; None where one of them is not given."""
        gaps = [t.get("gap") for t in (c.get("found", {}), c.get("wanted", {}), limit)]
        return None if None in gaps else [g * self.length for g in gaps]

    def warm_up(self, c):
        """The states that a coupling goes through in warm-up, where they are limited: each of its machines at its
        lowest and at its highest share of growth of any condition or with growth of a condition's own, journal shift
        all there or not."""
        if self.transient is None:
            return []
        ends = []
        for end in ("from", "to"):
            name = self.shaft(c[end]).machine.name
            shares = [0, 1] + [k[1][name] for k in self.conditions if name not in k[4]]
            own = [k[4][name] for k in self.conditions if name in k[4]]
            ends.append([(name, s, None) for s in (min(shares), max(shares))] + [(name, 0, g) for g in own])
        out = []
        for a in ends[0]:
            for b in ends[1]:
                for run in (0, 1):
                    own = {n: g for n, _, g in (a, b) if g is not None}
                    out.append(("warm-up", {a[0]: a[1], b[0]: b[1]}, run, 1, own))
        return out

    def share_variables(self):
        """A variable for each share that is added up, in the order of together."""
        out = []
        for c in self.keys.get("coupling", []):
            limit = self.limit(c, self.shaft(c["from"]), self.shaft(c["to"]))
            if limit.get("combined") == "sum":
                kinds = 2 if self.gaps(c, limit) is None else 3
                states = len(self.conditions) + len(self.warm_up(c))
                out += [Variable("share", "", "share", 0, 0) for _ in range(kinds * states)]
        return out

    def together(self, c, shares, where, use, scaled):
        """The shares of the limits add up to at most `use`. Of a spacer's flexing elements each bears its own angle."""
        n, first = len(self.variables), next(j for j, v in enumerate(self.variables) if v.kind == "share") + len(self.shares)
        unit = np.eye(n)
        column = {}
        for k, (kind, parts) in enumerate(shares.items()):
            column[kind] = unit[first + k]
            self.shares.append(parts)
            for forms, r in parts:
                self.balls.append(Ball("share of " + kind, where, clean(np.array([f.row for f in forms])) / r,
                                       np.array([f.constant for f in forms]) / r, 0, False, column[kind]))
        gap = column.pop("gap", np.zeros(n))
        sums = [a + gap for a in column.values()] if "flex" in c else [sum(column.values()) + gap]
        for row in sums:
            self.balls.append(Ball("sum", where, row[None, :], np.zeros(1), use, scaled))

    def filled(self, v):
        """The variables with the shares that follow from the moves."""
        v, j = np.array(v, float), next((j for j, x in enumerate(self.variables) if x.kind == "share"), 0)
        for n, parts in enumerate(self.shares):
            v[j + n] = max(float(np.linalg.norm([f.row @ v + f.constant for f in forms])) / r for forms, r in parts)
        return v

    # -- answers --------------------------------------------------------

    def total(self, v):
        """Movement in mm, weighted by effort, and what touching costs."""
        moved = {x.machine for x, a in zip(self.variables, v) if abs(a) > 1e-9}
        return float(self.cost @ np.abs(v)) + self.touch * len(moved)

    def worst_use(self, v):
        """The highest use of any coupling limit."""
        v = self.filled(v)
        return max((b.size(v) / b.radius for b in self.balls if b.scaled), default=0.0)


def load(path):
    with open(path, "rb") as f:
        return Problem(tomllib.load(f))


def loads(text):
    return Problem(tomllib.loads(text))
