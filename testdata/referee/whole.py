#!/usr/bin/python3
"""Strategies in whole steps, worked out a second time by HiGHS.

    whole.py [--limit SECONDS] [--lowest] -o FILE.json TRAIN.toml ...

Whole shim steps, side moves at the dial's resolution, discs as 64-gons: the
smallest cap on every move up and to a side, in mm, and the fewest machines that
must be moved. Plans are made for true geometry, which adds up to a hundredth of a
limit: "inner" is on polygons inside discs that are less by that, so that its value
is one that a true plan reaches, "outer" on polygons outside discs that are more by
that, so that its bound holds for true plans. FILE.json has one train a line.

With --lowest: the lowest worst share of the coupling limits in place of both.
"""

import argparse
import json
import os
import sys
import tomllib

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

import model
import reference
import solve

SECOND = 0.01  # share of the use that true geometry may add or take off
FAR = 50.0  # mm: no move is larger


def solved(c, rows, lo, hi, whole, bounds, limit):
    r = milp(c, constraints=LinearConstraint(csr_matrix(np.array(rows)), np.array(lo), np.array(hi)), integrality=whole, bounds=bounds,
             options={"time_limit": limit, "mip_rel_gap": 1e-6})
    out = {"status": {0: "optimal", 2: "infeasible"}.get(r.status, "feasible" if r.x is not None else "unknown")}
    if r.x is not None:
        out["value"] = round(float(r.fun), 9)
    if r.mip_dual_bound is not None and np.isfinite(r.mip_dual_bound):
        out["bound"] = round(float(r.mip_dual_bound), 9)
    return out


def limits(p, use, inner):
    """The limits' rows over the variables in steps."""
    _, A, lo, hi, whole, unit = solve.program(p, use, 64, inner, True, True)
    n = len(whole)
    return A[: -2 * n, :n], lo[: -2 * n], hi[: -2 * n], whole, unit


def least_peak(p, use, inner, limit):
    A, lo, hi, whole, unit = limits(p, use, inner)
    n = len(whole)
    rows, low, high = list(np.hstack([A, np.zeros((len(A), 1))])), list(lo), list(hi)
    for j in range(n):
        for sign in (1, -1):
            r = np.zeros(n + 1)
            r[j], r[n] = sign * unit[j], -1
            rows.append(r)
            low.append(-np.inf)
            high.append(0)
    return solved(np.append(np.zeros(n), 1.0), rows, low, high, np.append(whole, 0),
                  Bounds(np.append(np.full(n, -np.inf), 0), np.inf), limit)


def fewest_machines(p, use, inner, limit):
    A, lo, hi, whole, unit = limits(p, use, inner)
    n = len(whole)
    names = sorted({v.machine for v in p.variables})
    k = len(names)
    rows, low, high = list(np.hstack([A, np.zeros((len(A), k))])), list(lo), list(hi)
    for j, v in enumerate(p.variables):
        for sign in (1, -1):
            r = np.zeros(n + k)
            r[j], r[n + names.index(v.machine)] = sign * unit[j], -FAR
            rows.append(r)
            low.append(-np.inf)
            high.append(0)
    return solved(np.concatenate([np.zeros(n), np.ones(k)]), rows, low, high, np.concatenate([whole, np.ones(k)]),
                  Bounds(np.concatenate([np.full(n, -np.inf), np.zeros(k)]), np.concatenate([np.full(n, np.inf), np.ones(k)])), limit)


def lowest(p, limit):
    return {"inner": reference.lowest_use(p, True, limit), "outer": reference.lowest_use(p, False, limit)}


def answers(path, limit, only_lowest):
    with open(path, "rb") as f:
        keys = tomllib.load(f)
    p = model.Problem(keys)
    aim = keys.get("aim", {}).get("use", 0.7)
    out = {"train": os.path.basename(path), "aim": aim}
    if only_lowest:
        return out | {"lowest": lowest(p, limit)}
    for name, ask in (("peak", least_peak), ("machines", fewest_machines)):
        out[name] = {"inner": ask(p, aim * (1 - SECOND), True, limit), "outer": ask(p, aim * (1 + SECOND), False, limit)}
    return out


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("-o", required=True)
    parser.add_argument("--limit", type=float, default=5)
    parser.add_argument("--lowest", action="store_true")
    parser.add_argument("trains", nargs="+")
    args = parser.parse_args()
    lines = []
    for path in args.trains:
        lines.append(json.dumps(answers(path, args.limit, args.lowest)))
        print(lines[-1], file=sys.stderr, flush=True)
    with open(args.o, "w") as f:
        f.write("[\n" + ",\n".join(lines) + "\n]\n")


if __name__ == "__main__":
    main()
