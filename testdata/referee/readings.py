"""A coupling's found misalignment from its readings, to first order.

Written from the signs in the project's README and not from its code: a dial at
the angle t, clockwise from 12, looks along u = (left, up) = (-sin t, cos t). A
rim of the second shaft reads constant + offset . u, a rim of the first one
constant - offset . u, a face that looks at the gap constant + radius x slope . u;
a bracket's sag adds sag (1 - cos t) / 2. A dial has a constant of its own.
"""

import numpy as np


def shaft_of(machines, text):
    """(machine, index of its shaft) of MACHINE or MACHINE/SHAFT."""
    for m in machines:
        names = [s.get("name") for s in m.get("shaft", [{}])]
        if text == m["name"] and len(names) == 1:
            return m, 0
        for j, name in enumerate(names):
            if name is not None and text == m["name"] + "/" + name:
                return m, j
    raise ValueError("no shaft " + text)


def line(machine, shaft, x, length, move):
    """A shaft by the points of a survey: [up, left] in mm at a train station in mm,
    and the slopes in mrad. One slope for all shafts of the machine, a place for each
    that has points; a shaft without takes the first one's, moved by y and z and the
    roll found."""
    shafts = machine.get("shaft", [{}])
    points = machine["point"]
    names = [s.get("name") for s in shafts]
    on = [names.index(p["shaft"]) if "shaft" in p else 0 for p in points]
    placed = sorted(set(on))
    at = machine.get("at", 0) * length
    a = np.array([[1.0 if j == k else 0.0 for k in placed] + [(at + p["x"] * length) / 1000] for p, j in zip(points, on)])
    w = np.array([1.959963984540054 / (p["error"] * move) if "error" in p else 1 / 0.02 for p in points])
    b = np.array([[p["v"] * move, p["h"] * move] for p in points])
    answer, _, rank, _ = np.linalg.lstsq(a * w[:, None], b * w[:, None], rcond=None)
    if rank < a.shape[1]:
        raise ValueError("the points of " + machine["name"] + " give no line")
    base = shaft if shaft in placed else placed[0]
    place = answer[placed.index(base)] + answer[-1] * x / 1000
    if base != shaft:
        dy = (shafts[shaft].get("y", 0) - shafts[base].get("y", 0)) * length
        dz = (shafts[shaft].get("z", 0) - shafts[base].get("z", 0)) * length
        roll = machine.get("level", {}).get("found", {}).get("roll", 0) / 1000
        place = place + np.array([dz * np.cos(roll) + dy * np.sin(roll), dy * np.cos(roll) - dz * np.sin(roll)])
    return place, answer[-1]


def surveyed(coupling, machines, length, move):
    """v and h of a coupling by the points of its two shafts."""
    x = coupling["x"] * length
    (a, sa), (b, sb) = (line(*shaft_of(machines, coupling[end]), x, length, move) for end in ("from", "to"))
    return {k: {"offset": float(b[i] - a[i]) / move, "angle": float(sb[i] - sa[i])} for i, k in enumerate("vh")}


# Chi-square, 0.95, by degrees of freedom.
CHI_SQUARE = [0, 3.841459, 5.991465, 7.814728, 9.487729, 11.070498, 12.591587, 14.067140, 15.507313, 16.918978, 18.307038]


def covariance(coupling, length, move):
    """Covariances of offset and angle in mm and mrad, vertical and horizontal, 95 % half-widths
    squared, by the errors of the readings, larger where what they leave to the fit contradicts
    those; None where the coupling has none."""
    kept = []
    found(coupling, length, move, keep=kept)
    if not kept:
        return None
    rows, right, answer = kept
    freedom = len(rows) - len(answer)
    squares = 1.959963984540054 ** 2 * np.sum((right - rows @ answer) ** 2)
    beyond = max(0.0, squares - CHI_SQUARE[freedom]) / freedom if freedom else 0.0
    c = (1 + beyond) * np.linalg.inv(rows.T @ rows)
    return c[0:2, 0:2], c[2:4, 2:4]


def found(coupling, length, move, machines=(), keep=None):
    """[coupling.found] with v and h worked out, in the units of the file. Points of a
    survey count where there is nothing else."""
    out = dict(coupling.get("found", {}))
    readings = coupling.get("reading", [])
    if not readings and "v" not in out and "h" not in out and any("point" in m for m in machines):
        return out | surveyed(coupling, machines, length, move)
    if not readings:
        return out
    dials = [r for r in readings if r["kind"] != "offset"]
    rows, right = [], []
    for r in readings:
        weight = 1 / (r["error"] * move) if "error" in r else 1 / (1.959963984540054 * 0.01)
        arm = (r.get("x", 0) - coupling["x"]) * length / 1000  # m
        if r["kind"] == "offset":
            for row, value in (([1, arm, 0, 0], r["v"]), ([0, 0, 1, arm], r["h"])):
                rows.append(np.array(row + [0] * len(dials)) * weight)
                right.append(value * move * weight)
            continue
        if "file" in r:
            raise ValueError("readings in a file of their own are not read here")
        sign = -1 if r.get("pushed_in", "+") == "-" else 1
        sag = r.get("sag", -2 * sign * r.get("true_sag", 0))
        at = r.get("sweep") or [[30 * int(hour), v] for hour, v in r["clock"].items()]
        if "opposite" in r:
            at = [[degrees, (v - r["opposite"][str(round(degrees / 30))]) / 2] for degrees, v in at]
        for degrees, value in at:
            up, left = np.cos(np.radians(degrees)), -np.sin(np.radians(degrees))
            if r["kind"] == "rim":
                s = 1 if r["on"] == coupling["to"] else -1
                row = [s * up, s * up * arm, s * left, s * left * arm]
            else:
                lever = r["radius"] * length / 1000 * (-1 if r.get("away") else 1)
                row = [0, lever * up, 0, lever * left]
            own = [1.0 if r is d else 0.0 for d in dials]
            rows.append(np.array(row + own) * weight)
            right.append(sign * (value - sag * (1 - up) / 2) * move * weight)
    answer, _, rank, _ = np.linalg.lstsq(np.array(rows), np.array(right), rcond=None)
    if rank < len(answer):
        raise ValueError("the readings of " + coupling["name"] + " do not determine it")
    if keep is not None:
        keep += [np.array(rows), np.array(right), answer]
    out["v"] = {"offset": answer[0] / move, "angle": answer[1]}
    out["h"] = {"offset": answer[2] / move, "angle": answer[3]}
    return out
