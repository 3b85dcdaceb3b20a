"""What the limits must give for a train without a plan: the least relief by
CVXOPT, at all of the coupling limits, whole steps left out.

Each way out is a set of levers, amounts of 0 or more in mm (a share, for wider
limits) that a shop or a crew may set, each at a cost:

    hole    a foot's hole is opened              20 per mm, up to 6 mm
    bolt    its bolt's shank is turned down      10 per mm, to the thread's minor diameter
    cut     room is made under it                40 per mm, up to 3 mm
    raise   it may be raised further              5 per mm, up to 50 mm
    mix     all of these together
    widen C all limits of coupling C are wider    1 per share, up to 10

A bolt holds its foot within the disc that the hole leaves it. The model also
holds what is set at a foot station by itself; that is left out here, as the
foot goes where the machine goes, and what is set is within a step of it.
"""

import math

import cvxopt
import cvxopt.solvers
import numpy as np

KINDS = ("hole", "bolt", "cut", "raise")
COST = {"hole": 20.0, "bolt": 10.0, "cut": 40.0, "raise": 5.0}
MOST = {"hole": 6.0, "cut": 3.0, "raise": 50.0}
WIDEN = 10.0
LEAST = 1e-6  # mm or mrad, the radius of a limit of zero

# Pitch in mm by nominal diameter: ISO 261, coarse; threads per inch: UNC.
PITCH = {16: 2, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3, 27: 3, 30: 3.5, 33: 3.5, 36: 4, 39: 4, 42: 4.5}
PER_INCH = {0.75: 10, 1: 8, 1.25: 7}


def minor(bolt, inch):
    """Minor diameter of a bolt's coarse thread, both in the file's unit:
    d - 17/12 H, H = P sqrt(3) / 2; None for no nominal size."""
    table = {d: 1 / n for d, n in PER_INCH.items()} if inch else PITCH
    pitch = table.get(bolt)
    return None if pitch is None else bolt - 17 / 12 * math.sqrt(3) / 2 * pitch


class Lever:
    def __init__(self, kind, machine, foot, most):
        self.kind, self.machine, self.foot, self.most, self.cost = kind, machine, foot, most, COST[kind]

    @property
    def where(self):
        return f"{self.machine} {self.foot}"


def levers(p, kinds):
    """The levers of some kinds: of every foot of a machine that may move."""
    out = []
    for m in p.machines:
        if m.held:
            continue
        for f in m.feet:
            k = f.keys
            for kind in kinds:
                most = MOST.get(kind)
                if kind in ("hole", "bolt"):
                    if "bolt" not in k or "hole" not in k:
                        continue
                    if kind == "bolt":
                        d3 = minor(k["bolt"], p.length != 1)
                        if d3 is None:
                            continue
                        most = (k["bolt"] - d3) * p.length
                elif kind == "cut" and "shim" not in k and "lower" not in k or kind == "raise" and "raise" not in k:
                    continue
                out.append(Lever(kind, m.name, f.name, most))
    return out


def program(p, gives, coupling=None):
    """c, G, h, dims over the variables and the levers' amounts, or, with the
    name of a coupling, the share by which its limits are wider."""
    n = len(p.variables)
    wider = coupling is not None
    m = n + (1 if wider else len(gives))
    c = np.zeros(m)
    c[n:] = 1.0 if wider else [g.cost for g in gives]
    rows, rhs, discs = [], [], []

    def head(by):
        r = np.zeros(m)
        for j, v in by:
            r[n + j] = -v
        return r

    def half(a, b, by=()):
        r = head(by)
        r[:n] += a
        rows.append(r)
        rhs.append(b)

    def of(where, *kinds):
        return [(j, g) for j, g in enumerate(gives) if g.where == where and g.kind in kinds]

    for j, most in enumerate([WIDEN] if wider else [g.most for g in gives]):
        for sign, at in ((1, most), (-1, 0.0)):
            r = np.zeros(m)
            r[n + j] = sign
            rows.append(r)
            rhs.append(at)
    for b in p.boxes:
        lo, hi, up, down = b.lo, b.hi, (), ()
        if b.kind == "pack":
            up = [(j, 1.0) for j, _ in of(b.where, "raise")]
            down = [(j, 1.0) for j, _ in of(b.where, "cut")]
        elif b.kind == "bolt":
            continue
        elif b.kind in ("flat", "bend"):
            hi = max(hi, LEAST)
            lo = -hi
        if np.isfinite(hi):
            half(b.a, hi - b.b, up)
        if np.isfinite(lo):
            half(-b.a, b.b - lo, down)
    for b in p.balls:
        radius = max(b.radius, 1e-3 if b.kind == "bolt" else LEAST)
        if b.head is not None:
            raise ValueError("limits added up are not widened here")
        by = [(j, 0.5) for j, _ in of(b.where.removesuffix(", hot"), "hole", "bolt")] if b.kind == "bolt" else []
        if wider and b.scaled and b.where.startswith(coupling + ", "):
            by = [(0, radius)]
        if len(b.b) == 1:
            half(b.A[0], radius - b.b[0], by)
            half(-b.A[0], radius + b.b[0], by)
        else:
            discs.append((b, radius, by))
    linear = len(rows)
    for b, radius, by in discs:
        rows.append(head(by))
        rhs.append(radius)
        for a, k in zip(b.A, b.b):
            half(-a, k)
    return c, np.array(rows), np.array(rhs), {"l": linear, "q": [len(b.b) + 1 for b, _, _ in discs], "s": []}


def solve(data, tolerance=1e-9):
    """CVXOPT, its tolerance loosened where it gives up, as for the other cones."""
    c, G, h, dims = data
    options = {"show_progress": False, "abstol": tolerance, "reltol": tolerance, "feastol": tolerance, "maxiters": 100}
    try:
        s = cvxopt.solvers.conelp(cvxopt.matrix(c), cvxopt.sparse(cvxopt.matrix(G)), cvxopt.matrix(h), dims, kktsolver="ldl", options=options)
        status = {"optimal": "optimal", "primal infeasible": "infeasible"}.get(s["status"], "unknown")
    except (ValueError, ArithmeticError):
        s, status = {}, "unknown"
    if status == "unknown" and tolerance < 1e-6:
        return solve(data, tolerance * 10)
    out = {"status": status}
    if status == "optimal":
        out |= {"value": s["primal objective"], "bound": s["dual objective"]}
    if tolerance > 1e-9:
        out["tolerance"] = tolerance
    return out


def impossible(p):
    """Whether the limits cannot hold together as they are."""
    return solve(program(p, []))["status"] == "infeasible"


def least(p):
    """The least relief of every kind, and by wider limits at each coupling."""
    out = {k: solve(program(p, levers(p, [k]))) for k in KINDS}
    out["mix"] = solve(program(p, levers(p, KINDS)))
    out["widen"] = [solve(program(p, [], c["name"])) for c in p.keys["coupling"]]
    return out
