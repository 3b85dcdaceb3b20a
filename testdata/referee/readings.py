"""A coupling's found misalignment from its readings, to first order.

Written from the signs in the project's README and not from its code: a dial at
the angle t, clockwise from 12, looks along u = (left, up) = (-sin t, cos t). A
rim of the second shaft reads constant + offset . u, a rim of the first one
constant - offset . u, a face that looks at the gap constant + radius x slope . u;
a bracket's sag adds sag (1 - cos t) / 2. A dial has a constant of its own.
"""

import numpy as np


def found(coupling, length, move):
    """[coupling.found] with v and h worked out, in the units of the file."""
    out = dict(coupling.get("found", {}))
    readings = coupling.get("reading", [])
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
    out["v"] = {"offset": answer[0] / move, "angle": answer[1]}
    out["h"] = {"offset": answer[2] / move, "angle": answer[3]}
    return out
