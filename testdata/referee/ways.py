#!/usr/bin/python3
"""Ways to move a train, worked out a second time.

    ways.py -o FILE.json TRAIN.toml ...

By CVXOPT, whole steps left out: the smallest cap on every move up and to a side
at the aim; the least total at several uses; the lowest worst use with every set
of machines that may be moved, the others staying. By numpy: the moves at the
foot stations of the cascade from each machine and of the best straight line, by
the linear model, whole steps left out. Everything in mm; FILE.json has one train
a line.
"""

import argparse
import json
import os
import sys
import tomllib

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import cvxopt
import cvxopt.solvers
import numpy as np

import model
import solve

USES = (0.4, 0.7, 1.0)


def conelp(c, G, h, dims):
    for tolerance in (1e-9, 1e-8, 1e-7):
        options = {"show_progress": False, "abstol": tolerance, "reltol": tolerance, "feastol": tolerance, "maxiters": 100}
        try:
            s = cvxopt.solvers.conelp(cvxopt.matrix(c), cvxopt.sparse(cvxopt.matrix(G)), cvxopt.matrix(h), dims, kktsolver="ldl", options=options)
        except (ValueError, ArithmeticError):
            continue
        if s["status"] == "optimal":
            return s["primal objective"]
        if s["status"] == "primal infeasible":
            return "infeasible"
    return "unknown"


def least_peak(p, use):
    c, G, h, dims = solve.cone_program(p, use)
    n, m = len(p.variables), G.shape[1]
    caps = np.zeros((n, m + 1))
    for j in range(n):
        caps[j, n + j], caps[j, m] = 1, -1
    G = np.vstack([caps, np.hstack([G, np.zeros((G.shape[0], 1))])])
    h = np.concatenate([np.zeros(n), h])
    return conelp(np.append(np.zeros(m), 1.0), G, h, {**dims, "l": dims["l"] + n})


def lowest_use(p, moved):
    """With the variables of some machines only."""
    c, G, h, dims = solve.cone_program(p, None)
    keep = [j for j, v in enumerate(p.variables) if v.machine in moved] + [len(p.variables)]
    G = G[:, keep]
    c = c[keep]
    linear = np.arange(len(h)) < dims["l"]
    empty = linear & (np.abs(G).max(axis=1) < 1e-12)
    if np.any(h[empty] < -1e-9):
        return "infeasible"
    return conelp(c, G[~empty], h[~empty], {**dims, "l": dims["l"] - int(empty.sum())})


def subsets(p):
    movable = [m.name for m in p.machines if not m.held]
    return [lowest_use(p, {name for b, name in enumerate(movable) if bits >> b & 1}) for bits in range(1 << len(movable))]


class Yard:
    """The train with every machine free and without roll or axial shift."""

    def __init__(self, keys):
        keys = {**keys, "machine": [{**m, "hold": False, "roll": False, "axial": False} for m in keys["machine"]]}
        p = self.p = model.Problem(keys)
        running = p.conditions[0]
        self.forms = []  # of each coupling: four numbers that are to be zero
        for c in keys["coupling"]:
            offset, angle, _ = p.misalignment(c, running)
            x0 = c["x"] * p.length
            rows = []
            for plane in (0, 1):
                want = c.get("wanted", {}).get("vh"[plane], {})
                rows += [offset(plane, x0) + -want.get("offset", 0) * p.move, angle(plane) + -want.get("angle", 0)]
            self.forms.append(rows)
        self.own = [[j for j, v in enumerate(p.variables) if v.machine == m.name] for m in p.machines]

    def set(self, v, coupling, machine):
        """Brings a coupling to what is wanted by one machine's variables."""
        A = np.array([f.row for f in self.forms[coupling]])
        b = np.array([f.row @ v + f.constant for f in self.forms[coupling]])
        # Of three stations the moves nearest to a rigid body's are wanted: the
        # shortest answer in the machine's own motion, given back to its feet.
        own = self.own[machine]
        motion = self.rigid(machine)
        q = np.linalg.lstsq(A[:, own] @ motion, -b, rcond=None)[0]
        v[own] += motion @ q

    def rigid(self, machine):
        """What a rise, a shift aside, a climb and a turn set at the stations."""
        m = self.p.machines[machine]
        out = []
        for j in self.own[machine]:
            var = self.p.variables[j]
            x = (m.feet[var.feet[0]].x - m.middle) / 1000
            out.append([1, x, 0, 0] if var.kind == "up" else [0, 0, 1, x])
        return np.array(out, float)

    def cascade(self, stays):
        v = np.zeros(len(self.p.variables))
        for i in range(stays + 1, len(self.p.machines)):
            self.set(v, i - 1, i)
        for i in range(stays - 1, -1, -1):
            self.set(v, i, i)
        return v

    def straight(self):
        v = self.cascade(0)
        for kind in ("up", "left"):
            at = [j for j, x in enumerate(self.p.variables) if x.kind == kind]
            x = np.array([self.station(j) for j in at])
            A = np.column_stack([np.ones_like(x), x])
            v[at] -= A @ np.linalg.lstsq(A, v[at], rcond=None)[0]
        return v

    def station(self, j):
        var = self.p.variables[j]
        m = next(m for m in self.p.machines if m.name == var.machine)
        return (m.at + m.feet[var.feet[0]].x) / 1000

    def listed(self, v):
        """Up and left at the stations, in order."""
        up = [round(float(v[j]), 9) for j, x in enumerate(self.p.variables) if x.kind == "up"]
        left = [round(float(v[j]), 9) for j, x in enumerate(self.p.variables) if x.kind == "left"]
        return {"up": up, "left": left}


def number(x):
    return x if isinstance(x, str) else round(float(x), 9)


def answers(path):
    with open(path, "rb") as f:
        keys = tomllib.load(f)
    p, yard = model.Problem(keys), Yard(keys)
    aim = keys.get("aim", {}).get("use", 0.7)
    return {
        "train": os.path.basename(path), "aim": aim, "peak": number(least_peak(p, aim)),
        "totals": [number(conelp(*solve.cone_program(p, u))) for u in USES],
        "subsets": [number(u) for u in subsets(p)],
        "cascades": [yard.listed(yard.cascade(i)) for i in range(len(p.machines))],
        "straight": yard.listed(yard.straight()),
    }


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("-o", required=True)
    parser.add_argument("trains", nargs="+")
    args = parser.parse_args()
    with open(args.o, "w") as f:
        f.write("[\n" + ",\n".join(json.dumps(answers(t)) for t in args.trains) + "\n]\n")


if __name__ == "__main__":
    main()
