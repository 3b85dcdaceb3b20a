"""The problem of model.py given to CVXOPT (cones) and HiGHS (polygons).

Values are in mm. Every answer is a dictionary with "status" (optimal,
infeasible, feasible, unknown), "value" and "seconds".
"""

import time
from functools import cache

import cvxopt
import cvxopt.solvers
import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_matrix
from scipy.spatial import ConvexHull

from model import clean

# -- cones ---------------------------------------------------------------


def cone_program(p, use):
    """c, G, h, dims over (v, t), t >= |v|; with use None over (v, u), to
    minimize the use u."""
    n = len(p.variables)
    m = 2 * n if use is not None else n + 1
    rows, rhs = [], []

    def row(a, b, extra=None, head=None):
        r = np.zeros(m)
        r[:n] = a if head is None else a - head
        if extra is not None:
            r[n] = extra
        rows.append(r)
        rhs.append(b)

    c = np.zeros(m)
    if use is None:
        c[n] = 1
        row(np.zeros(n), 0, -1)
    else:
        c[n:] = p.cost
        for j in range(n):
            for sign in (1, -1):
                r = np.zeros(m)
                r[j], r[n + j] = sign, -1
                rows.append(r)
                rhs.append(0)
    for b in p.boxes:
        if np.isfinite(b.hi):
            row(b.a, b.hi - b.b)
        if np.isfinite(b.lo):
            row(-b.a, b.b - b.lo)
    discs = []
    for b in p.balls:
        radius, grows = b.radius, None
        if b.scaled and use is None:
            radius, grows = 0.0, -b.radius
        elif b.scaled:
            radius = b.radius * use
        if len(b.b) == 1:
            row(b.A[0], radius - b.b[0], grows, b.head)
            row(-b.A[0], radius + b.b[0], grows, b.head)
        else:
            discs.append((b, radius, grows))
    linear = len(rows)
    sizes = []
    for b, radius, grows in discs:
        row(np.zeros(n), radius, grows, b.head)
        for a, k in zip(b.A, b.b):
            row(-a, k)
        sizes.append(len(b.b) + 1)
    return c, np.array(rows), np.array(rhs), {"l": linear, "q": sizes, "s": []}


def cones(p, use, tolerance=1e-9):
    """The cone program by CVXOPT. It gives up on some problems at 1e-9, often
    with an error of its own arithmetic; then the tolerance is loosened, and
    the answer says to what."""
    c, G, h, dims = cone_program(p, use)
    options = {"show_progress": False, "abstol": tolerance, "reltol": tolerance, "feastol": tolerance, "maxiters": 100}
    start = time.perf_counter()
    try:
        s = cvxopt.solvers.conelp(cvxopt.matrix(c), cvxopt.sparse(cvxopt.matrix(G)), cvxopt.matrix(h), dims, kktsolver="ldl", options=options)
    except (ValueError, ArithmeticError) as e:
        if tolerance < 1e-6:
            return cones(p, use, tolerance * 10)
        return {"status": "unknown", "value": None, "error": str(e), "seconds": time.perf_counter() - start}
    seconds = time.perf_counter() - start
    status = {"optimal": "optimal", "primal infeasible": "infeasible"}.get(s["status"], "unknown")
    out = {"status": status, "value": s["primal objective"], "seconds": seconds, "iterations": s["iterations"]}
    if s["x"] is not None and status != "infeasible":
        out["x"] = [float(v) for v in s["x"]][: len(p.variables)]
        out["bound"] = s["dual objective"]
    if status == "unknown" and tolerance < 1e-6:
        return cones(p, use, tolerance * 10)
    if tolerance > 1e-9:
        out["tolerance"] = tolerance
    if status == "infeasible":
        out["value"] = None
    return out


def relaxed(p, use):
    """Least movement, shims and sides continuous."""
    return cones(p, use)


def min_max(p):
    """The lowest worst use of any coupling limit."""
    return cones(p, None)


# -- polygons ------------------------------------------------------------


@cache
def directions(dimension, sides):
    """Unit normals of a polygon or polyhedron around the unit ball, and by
    how much it shrinks to lie inside the ball."""
    if dimension == 1:
        return np.array([[1.0], [-1.0]]), 1.0
    if dimension == 2:
        a = 2 * np.pi * np.arange(sides) / sides
        return np.column_stack([np.cos(a), np.sin(a)]), float(np.cos(np.pi / sides))
    k = np.arange(8 * sides) + 0.5  # spread evenly over the ball on a spiral
    z = 1 - 2 * k / (8 * sides)
    a = np.pi * (1 + 5**0.5) * k
    r = np.sqrt(1 - z * z)
    d = np.column_stack([r * np.cos(a), r * np.sin(a), z])
    return d, float(-ConvexHull(d).equations[:, -1].max())


def polygon_rows(p, use, sides, inner):
    """A, lo, hi over v: all limits, discs and balls as polygons."""
    rows, lo, hi = [], [], []
    for b in p.boxes:
        rows.append(b.a)
        lo.append(b.lo - b.b)
        hi.append(b.hi - b.b)
    for b in p.balls:
        radius = b.radius * (use if b.scaled else 1)
        head = np.zeros(b.A.shape[1]) if b.head is None else b.head
        if len(b.b) == 1 and b.head is None:
            rows.append(b.A[0])
            lo.append(-radius - b.b[0])
            hi.append(radius - b.b[0])
            continue
        d, shrink = directions(len(b.b), sides)
        for u in d:
            shrunk = shrink if inner else 1
            rows.append(u @ b.A - shrunk * head)
            lo.append(-np.inf)
            hi.append(radius * shrunk - u @ b.b)
    return clean(np.array(rows)), np.array(lo), np.array(hi)


def program(p, use, sides=64, inner=True, steps=False, lattice=False):
    """One linear program over (v in steps, |v|): cost, rows, lo, hi, whole."""
    n = len(p.variables)
    A, lo, hi = polygon_rows(p, use, sides, inner)
    whole = np.array([v.step > 0 and steps and (v.kind == "up" or lattice) for v in p.variables])
    unit = np.array([v.step if w else 1.0 for v, w in zip(p.variables, whole)])
    full = np.hstack([A * unit, np.zeros_like(A)])
    absolute = np.vstack([np.hstack([np.eye(n), -np.eye(n)]), np.hstack([-np.eye(n), -np.eye(n)])])
    full = np.vstack([full, absolute])
    lo = np.concatenate([lo, np.full(2 * n, -np.inf)])
    hi = np.concatenate([hi, np.zeros(2 * n)])
    return np.concatenate([np.zeros(n), p.cost * unit]), full, lo, hi, whole, unit


def highs(p, use, inner, sides=64, steps=True, lattice=False, limit=20.0, gap=1e-6):
    c, A, lo, hi, whole, unit = program(p, use, sides, inner, steps, lattice)
    n = len(whole)
    start = time.perf_counter()
    r = milp(c, constraints=LinearConstraint(csr_matrix(A), lo, hi),
             integrality=np.concatenate([whole, np.zeros(n)]),
             bounds=Bounds(np.concatenate([np.full(n, -np.inf), np.zeros(n)]), np.inf),
             options={"time_limit": limit, "mip_rel_gap": gap})
    out = {"seconds": time.perf_counter() - start, "status": {0: "optimal", 2: "infeasible"}.get(r.status, "unknown")}
    out["value"] = float(r.fun) if r.x is not None else None
    bound = r.mip_dual_bound if whole.any() else r.fun
    out["bound"] = float(bound) if bound is not None and np.isfinite(bound) else None
    if r.x is not None:
        out["x"] = [float(v) for v in r.x[:n] * unit]
        if r.status == 1:
            out["status"] = "feasible"
    return out


def mip(p, use, sides=64, lattice=False, limit=20.0, gap=1e-6):
    """Whole shim steps on polygons: the inner one's value is an upper bound,
    its plan a true plan; the outer one's bound is a lower bound."""
    return {k: highs(p, use, k == "inner", sides, True, lattice, limit, gap) for k in ("inner", "outer")}


def linear_time(p, use, sides=32, repeat=5):
    """The median time of HiGHS on the relaxed problem with outer polygons."""
    c, A, lo, hi, _, _ = program(p, use, sides, False)
    n = len(c) // 2
    below, above = np.isfinite(hi), np.isfinite(lo)
    M = csr_matrix(np.vstack([A[below], -A[above]]))
    b = np.concatenate([hi[below], -lo[above]])
    bounds = [(None, None)] * n + [(0, None)] * n
    times = []
    for _ in range(repeat):
        start = time.perf_counter()
        r = linprog(c, A_ub=M, b_ub=b, bounds=bounds, method="highs-ds")
        times.append(time.perf_counter() - start)
    status = {0: "optimal", 2: "infeasible"}.get(r.status, "unknown")
    return {"status": status, "value": float(r.fun) if r.status == 0 else None, "seconds": float(np.median(times))}


def cuts(p, use, tolerance=1e-9, rounds=100):
    """Least movement (use None: the lowest worst use) by tangent cuts: an
    octagon around every disc, then the tangent nearest to every point that
    lies outside, until none does. The value approaches the optimum from
    below."""
    n = len(p.variables)
    if use is None:
        return cut(p, np.concatenate([np.zeros(n), [1.0]]), [], tolerance, rounds)
    absolute = [(np.concatenate([sign * e, -e]), 0.0) for e in np.eye(n) for sign in (1, -1)]
    return cut(p, np.concatenate([np.zeros(n), p.cost]), absolute, tolerance, rounds, use)


def cut(p, cost, rows, tolerance, rounds, use=None):
    """Minimize the cost over v and n more unknowns, or over v and the use."""
    n = len(p.variables)

    def row(a, b, grows=0.0):
        r = np.zeros(len(cost))
        r[:n] = a
        if grows:
            r[n] = -grows
        rows.append((r, b))

    def size(ball):
        """Fixed radius, and what each unit of unknown use adds."""
        if not ball.scaled:
            return ball.radius, 0.0
        return (0.0, ball.radius) if use is None else (ball.radius * use, 0.0)

    for b in p.boxes:
        if np.isfinite(b.hi):
            row(b.a, b.hi - b.b)
        if np.isfinite(b.lo):
            row(-b.a, b.b - b.lo)
    for b in p.balls:
        radius, grows = size(b)
        head = 0 if b.head is None else b.head
        for u in directions(len(b.b), 8)[0]:
            row(u @ b.A - head, radius - u @ b.b, grows)
    bounds = [(None, None)] * n + [(0, None)] * (len(cost) - n)
    start = time.perf_counter()
    for k in range(rounds):
        A, h = csr_matrix(np.array([r for r, _ in rows])), [b for _, b in rows]
        r = linprog(cost, A_ub=A, b_ub=h, bounds=bounds, method="highs-ds",
                    options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
        if r.status != 0:
            status = "infeasible" if r.status == 2 else "unknown"
            return {"status": status, "value": None, "rounds": k, "seconds": time.perf_counter() - start}
        worst = 0.0
        for b in p.balls:
            if len(b.b) == 1:
                continue
            radius, grows = size(b)
            u = b.A @ r.x[:n] + b.b
            head = 0 if b.head is None else b.head
            over = float(np.linalg.norm(u)) - radius - grows * (r.x[n] if grows else 0)
            over -= float(head @ r.x[:n]) if b.head is not None else 0
            worst = max(worst, over)
            if over > tolerance:
                u = u / np.linalg.norm(u)
                row(u @ b.A - head, radius - u @ b.b, grows)
        if worst <= tolerance:
            break
    return {"status": "optimal" if worst <= tolerance else "unknown", "value": float(r.fun), "rounds": k + 1,
            "violation": worst, "x": [float(v) for v in r.x[:n]], "seconds": time.perf_counter() - start}
