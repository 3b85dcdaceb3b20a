#!/usr/bin/env python3
"""Lines through invented points of a survey by NumPy, to hold those of this
package against.

A machine's shafts are parallel: one slope, a place for each shaft with points. The
equations are written here anew; run as: python3 survey.py > survey.json
"""
import json

import numpy as np

rng = np.random.default_rng(12)
cases = []
for number in range(40):
    machines, fits, squares, freedom = [], [], 0.0, 0
    at = 0.0
    for k in range(int(rng.integers(2, 5))):
        shafts = int(rng.integers(1, 3))
        points, rows, right, weight = [], [], [[], []], []
        for shaft in range(shafts):
            for x in np.sort(rng.uniform(0, 1500, int(rng.integers(2, 5)) if shaft == 0 else int(rng.integers(1, 4)))):
                error = float(rng.uniform(0.01, 0.08))
                v, h = (float(round(z, 3)) for z in rng.normal(0, 0.5, 2))
                points.append({"shaft": shaft, "x": float(x), "v": v, "h": h, "error": error})
                rows.append([1.0 if j == shaft else 0.0 for j in range(shafts)] + [(at + x) / 1000])
                right[0].append(v)
                right[1].append(h)
                weight.append(1.959963984540054 / error)
        a, w = np.array(rows), np.array(weight)
        aw = a * w[:, None]
        solved = []
        for b in right:
            b = np.array(b)
            x, _, rank, _ = np.linalg.lstsq(aw, b * w, rcond=None)
            assert rank == a.shape[1]
            squares += float(np.sum((w * (b - a @ x)) ** 2))
            freedom += len(b) - rank
            solved.append(x)
        fits.append((solved, np.linalg.inv(aw.T @ aw), shafts))
        machines.append({"at": at, "shafts": shafts, "points": points})
        at += 2500.0
    scale = np.sqrt(squares / freedom) if freedom else 1.0
    couplings = []
    for k in range(len(machines) - 1):
        (a, ca, na), (b, cb, nb) = fits[k], fits[k + 1]
        x = 2500.0 * (k + 1) - float(rng.uniform(300, 700))
        ra, rb = np.zeros(na + 1), np.zeros(nb + 1)
        ra[na - 1], ra[-1] = 1, x / 1000  # from the last shaft of one ...
        rb[0], rb[-1] = 1, x / 1000       # ... to the first of the next
        sa, sb = np.eye(na + 1)[-1], np.eye(nb + 1)[-1]
        couplings.append({
            "x": x, "from": na - 1,
            "found": [float(rb @ b[0] - ra @ a[0]), float(sb @ b[0] - sa @ a[0]), float(rb @ b[1] - ra @ a[1]), float(sb @ b[1] - sa @ a[1])],
            "standard": [float(scale * np.sqrt(ra @ ca @ ra + rb @ cb @ rb)), float(scale * np.sqrt(sa @ ca @ sa + sb @ cb @ sb))],
        })
    cases.append({"machines": machines, "freedom": int(freedom), "couplings": couplings})
print("[\n" + ",\n".join(json.dumps(c) for c in cases) + "\n]")
