#!/usr/bin/env python3
"""Fits of invented readings by NumPy, to hold the fits of this package against.

The equations are written here anew, to first order, from the signs in the
README; run as: python3 fits.py > fits.json
"""
import json

import numpy as np

rng = np.random.default_rng(6)
cases = []
for number in range(40):
    x = float(rng.uniform(-200, 200))
    kinds = [["rim-from", "rim-to"], ["rim-to", "face"], ["offset", "offset"], ["rim-from", "rim-to", "face", "offset"]][number % 4]
    dials, rows, right, weight = [], [], [], []
    dialled = sum(k != "offset" for k in kinds)
    constant = 0
    for i, kind in enumerate(kinds):
        at = float(rng.uniform(-300, -80) if i % 2 == 0 else rng.uniform(80, 300))
        error = float(rng.uniform(0.005, 0.05))
        radius = float(rng.uniform(60, 200))
        arm = (at - x) / 1000
        if kind == "offset":
            v, h = (float(round(z, 3)) for z in rng.normal(0, 0.5, 2))
            dials.append({"kind": kind, "x": at, "error": error, "v": v, "h": h})
            for row, value in (([1, arm, 0, 0], v), ([0, 0, 1, arm], h)):
                rows.append(row + [0] * dialled)
                right.append(value)
                weight.append(1.959963984540054 / error)
            continue
        count = int(rng.integers(3, 9))
        angles = [float(a) for a in np.sort(rng.uniform(0, 360, count) * 0.3 + np.arange(count) * 360 / count)]
        values = [float(round(z, 3)) for z in rng.normal(0, 0.3, count)]
        dials.append({"kind": kind, "x": at, "radius": radius, "error": error, "angles": angles, "values": values})
        for angle, value in zip(angles, values):
            up, left = np.cos(np.radians(angle)), -np.sin(np.radians(angle))
            row = {
                "rim-to": [up, up * arm, left, left * arm],
                "rim-from": [-up, -up * arm, -left, -left * arm],
                "face": [0, radius / 1000 * up, 0, radius / 1000 * left],
            }[kind]
            own = [0.0] * dialled
            own[constant] = 1.0
            rows.append(row + own)
            right.append(value)
            weight.append(1.959963984540054 / error)
        constant += 1
    a, b, w = np.array(rows, float), np.array(right), np.array(weight)
    solution, _, rank, _ = np.linalg.lstsq(a * w[:, None], b * w, rcond=None)
    assert rank == a.shape[1]
    freedom = len(b) - rank
    inverse = np.linalg.inv((a * w[:, None]).T @ (a * w[:, None]))
    chi = float(np.sum((w * (b - a @ solution)) ** 2))
    scale = np.sqrt(chi / freedom) if freedom else 1.0
    cases.append({
        "x": x, "dials": dials, "freedom": int(freedom),
        "found": [float(z) for z in solution[:4]],
        "standard": [float(scale * np.sqrt(inverse[i, i])) for i in range(4)],
    })
print("[\n" + ",\n".join(json.dumps(c) for c in cases) + "\n]")
