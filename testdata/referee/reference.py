#!/usr/bin/python3
"""Makes the reference optima in testdata/reference: see the README there.

    reference.py [--jobs 2] [--limit 20] -o FILE.json FOLDER

FOLDER holds train files FAMILY-SEED.toml, as testdata/families/write writes
them. FILE.json is written anew, one train a line, in the order of the names.
"""

import argparse
import hashlib
import json
import multiprocessing
import os
import platform
import re
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import cvxopt
import numpy as np
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

import model
import solve

POLYGON = 64  # sides
GAP = 1e-5  # relative, that ends a MIP
SECOND = 0.01  # share of the use that true geometry may add to the linear forms, or take off


def rounded(answer, unit):
    """The parts of an answer that a test needs, in the file's unit."""
    out = {"status": answer["status"]}
    for k in ("value", "bound"):
        v = answer.get(k)
        if v is not None and np.isfinite(v):
            out[k] = float(f"{v / unit:.12g}")
    if "tolerance" in answer:
        out["tolerance"] = answer["tolerance"]
    return out


def lowest_use(p, inner, limit):
    """The lowest worst use that whole steps and the dial's resolution can
    reach, on polygons. The radii, and so the right-hand sides, are linear in
    the use, which becomes one more unknown."""
    c, A, lo0, hi0, whole, unit = solve.program(p, 0.0, POLYGON, inner, True, True)
    _, _, lo1, hi1, _, _ = solve.program(p, 1.0, POLYGON, inner, True, True)
    n = len(whole)
    A, lo0, hi0, lo1, hi1 = A[: -2 * n, :n], lo0[: -2 * n], hi0[: -2 * n], lo1[: -2 * n], hi1[: -2 * n]
    rows, least = [], []
    for a, l0, h0, l1, h1 in zip(A, lo0, hi0, lo1, hi1):
        if np.isfinite(h0):
            rows.append(np.append(-a, h1 - h0))
            least.append(-h0)
        if np.isfinite(l0):
            rows.append(np.append(a, l0 - l1))
            least.append(l0)
    r = milp(np.append(np.zeros(n), 1.0), constraints=LinearConstraint(csr_matrix(np.array(rows)), np.array(least), np.inf),
             integrality=np.append(whole, 0), bounds=Bounds(np.append(np.full(n, -np.inf), 0), np.inf),
             options={"time_limit": limit, "mip_rel_gap": GAP})
    out = {"status": {0: "optimal", 2: "infeasible"}.get(r.status, "feasible" if r.x is not None else "unknown")}
    out["value"] = float(r.fun) if r.x is not None else None
    out["bound"] = r.mip_dual_bound
    return out


def brackets(p, use, limit):
    return solve.mip(p, use, POLYGON, True, limit, GAP)


def second_order(p, use, limit):
    """What is surely true of a plan that is made for true geometry."""
    close = solve.highs(p, use * (1 - SECOND), True, POLYGON, True, True, limit, GAP)
    wide = solve.highs(p, use * (1 + SECOND), False, POLYGON, True, True, limit, GAP)
    return {"close inner": rounded(close, p.move), "wide outer": rounded(wide, p.move)}


def reference(job):
    path, limit = job
    family, seed = re.fullmatch(r"(.+)-(\d+)\.toml", os.path.basename(path)).groups()
    text = open(path, "rb").read()
    p = model.loads(text.decode())
    use = p.keys.get("aim", {}).get("use", 0.7)
    out = {"family": family, "seed": int(seed), "sha256": hashlib.sha256(text).hexdigest(), "slides": True, "use": use,
           "found": p.worst_use(np.zeros(len(p.variables)))}
    relaxed = solve.relaxed(p, use)
    out["relaxed"] = rounded(relaxed, p.move)
    out["minmax"] = rounded(solve.min_max(p), 1)
    mip = brackets(p, use, limit)
    for k, a in mip.items():
        out[k] = rounded(a, p.move)
    if mip["inner"]["value"] is not None:
        out |= second_order(p, use, limit)
        for k in ("outer", "wide outer"):
            if out[k]["status"] == "infeasible":  # seen on 1 of 220: HiGHS is wrong, the inner plan is one
                out[k]["status"] = "wrong"
    else:
        for k, a in brackets(p, 1.0, limit).items():
            out["full " + k] = rounded(a, p.move)
        for k in ("inner", "outer"):
            out["lowest " + k] = rounded(lowest_use(p, k == "inner", limit), 1)
    return out


def main():
    a = argparse.ArgumentParser(prog="reference.py", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    a.add_argument("folder")
    a.add_argument("-o", required=True, dest="output")
    a.add_argument("--jobs", type=int, default=2)
    a.add_argument("--limit", type=float, default=20, help="seconds for each MIP (20)")
    args = a.parse_args()
    names = sorted((f for f in os.listdir(args.folder) if f.endswith(".toml")), key=lambda f: re.sub(r"\d+", lambda d: d[0].zfill(9), f))
    head = {"polygon": POLYGON, "gap": GAP, "second": SECOND, "limit": args.limit, "python": platform.python_version(), "numpy": np.__version__,
            "cvxopt": cvxopt.__version__, "scipy": scipy.__version__}
    lines = []
    with multiprocessing.Pool(args.jobs) as pool:
        for r in pool.imap(reference, [(os.path.join(args.folder, f), args.limit) for f in names]):
            print(r["family"], r["seed"], r["relaxed"], r["inner"], r["outer"], file=sys.stderr, flush=True)
            lines.append(json.dumps(r))
    with open(args.output, "w") as f:
        f.write('{"made": ' + json.dumps(head) + ', "trains": [\n' + ",\n".join(lines) + "\n]}\n")


if __name__ == "__main__":
    main()
