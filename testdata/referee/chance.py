#!/usr/bin/python3
"""The chance that a plan ends within the coupling limits, the [errors] of its
train file given, sampled a second time.

    chance.py [--draws N] [--seed N] TRAIN.toml PLAN.json
    chance.py --store FILE.json --errors O,A,P,G,L TRAIN.toml PLAN.json [TRAIN PLAN ...]
    chance.py --again FILE.json FOLDER [FOLDER ...]

What an error does to a limit is not worked out but looked up: the train file is
read again with one number changed, and the limits of model.py are compared
before and after. --errors are offset, angle, placing, growth and growth_least for
trains that state none. --store writes plans and answers as testdata/reference keeps
them; --again samples the plans that are stored there once more, their trains in the
folders. What [errors] leaves out takes the default; growth and journal shifts that are not stated
count as none.
Errors are Gaussian, their half-widths (95 %) 1.96 standard
deviations. Prints a JSON object: the share of draws within all limits, its
standard error, and the share of each coupling.
"""

import argparse
import copy
import json
import os
import sys
import tomllib

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import numpy as np

import judge
import model
import readings


def limits(keys, v):
    """The values of all coupling limits, as shares, one array each."""
    p = model.Problem(copy.deepcopy(keys))
    return [(b.A @ v + b.b) / b.radius for b in p.balls if b.scaled]


def scaled_growth(machine, by):
    """All that a machine grows, times (1 + by)."""
    m = copy.deepcopy(machine)
    tables = [m.get("growth", [])] + [s.get("growth", []) for s in m.get("shaft", [])]
    for g in (g for t in tables for g in t):
        for k in "vha":
            if k in g:
                g[k] *= 1 + by
    for f in m.get("foot", []):
        for t in (f, f.get("left", {}), f.get("right", {})):
            if "rise" in t:
                t["rise"] *= 1 + by
    return m


def whole(errors, inch):
    """[errors] with the defaults of what it leaves out."""
    small = 1 if inch else 0.02
    return {"offset": small, "angle": 0.05, "placing": small, "growth": 0.2, "growth_least": small} | errors


def scaled_run(shaft, by):
    """All of a journal shift, times (1 + by)."""
    if "run" in shaft:
        shaft["run"] = {k: x * (1 + by) for k, x in shaft["run"].items()}


def columns(keys, v):
    """What each error of one standard deviation adds to each limit."""
    e = {k: s / 1.96 for k, s in whole(keys["errors"], keys["units"] == "inch").items()}
    before = limits(keys, v)  # the couplings as found or read
    out = []

    def changed(make, at=v):
        k = copy.deepcopy(keys)
        make(k)
        out.append([a - b for a, b in zip(limits(k, at), before)])

    length, move = (25.4, 0.0254) if keys["units"] == "inch" else (1.0, 1.0)
    keys = copy.deepcopy(keys)
    for i, c in enumerate(keys["coupling"]):
        of = readings.covariance(c, length, move) or (np.zeros((2, 2)),) * 2
        c["found"] = readings.found(c, length, move, keys["machine"])
        c.pop("reading", None)
        for plane, cov in zip("vh", of):
            # Offset and angle at least as [errors] has them, as correlated as the fit has them.
            own = np.sqrt(np.diag(cov)) / 1.96
            r = cov[0, 1] / (own[0] * own[1] * 1.96 ** 2) if own.all() else 0.0
            o, a = max(own[0] / move, e["offset"]), max(own[1], e["angle"])
            for by in ({"offset": o, "angle": r * a}, {"offset": 0.0, "angle": a * (1 - r * r) ** 0.5}):
                def more(k):
                    for what, d in by.items():
                        k["coupling"][i]["found"][plane][what] += d
                changed(more)
    p = model.Problem(keys)
    for m in p.machines:
        own = [j for j, x in enumerate(p.variables) if x.machine == m.name]
        if e.get("placing") and np.any(np.abs(v[own]) > 1e-9):
            for j in own:
                if p.variables[j].kind == "left":
                    aside = v.copy()
                    aside[j] += e["placing"] * p.move
                    changed(lambda k: None, aside)
    if e.get("growth"):
        for i in range(len(keys["machine"])):
            def grown(k):
                k["machine"][i] = scaled_growth(k["machine"][i], e["growth"])
            changed(grown)
    # Journal shifts, and what growth and they are off besides.
    for i, m in enumerate(keys["machine"]):
        least = e["growth_least"]
        for d in range(3):
            def off(k):
                k["machine"][i]["more_growth"] = [least * (d == n) for n in range(3)]
            if least:
                changed(off)
        for s in range(max(1, len(m.get("shaft", [])))):
            def shaft(k):
                return k["machine"][i]["shaft"][s] if m.get("shaft") else k["machine"][i]
            if e["growth"]:
                changed(lambda k: scaled_run(shaft(k), e["growth"]))
            for d in range(2):
                def shifted(k):
                    shaft(k)["more_run"] = [least * (d == n) for n in range(2)]
                if least:
                    changed(shifted)
    return before, out


def chance(keys, plan, draws, seed):
    p = model.Problem(keys)
    v, broken = judge.moves(p, plan)
    if broken:
        raise ValueError("; ".join(broken))
    names = [b.where.split(", ")[0] for b in p.balls if b.scaled]
    before, by = columns(keys, v)
    rng = np.random.default_rng(seed)
    z = rng.standard_normal((draws, len(by)))
    good = {name: np.ones(draws, bool) for name in names}
    for n, (name, at) in enumerate(zip(names, before)):
        value = at + z @ np.array([c[n] for c in by])
        good[name] &= np.linalg.norm(value, axis=1) <= 1
    every = np.logical_and.reduce(list(good.values()))
    within = float(every.mean())
    return {"within": within, "error": (within * (1 - within) / draws) ** 0.5,
            "couplings": {name: float(g.mean()) for name, g in good.items()}}


def again(file, folders, seed):
    """Samples what is stored once more."""
    with open(file, "rb") as f:
        stored = json.load(f)
    for a in stored:
        path = next(p for p in (os.path.join(d, a["train"]) for d in folders) if os.path.exists(p))
        with open(path, "rb") as f:
            keys = tomllib.load(f)
        keys["errors"] = a["errors"]
        made = {m.name: m.feet for m in model.Problem(keys).machines}
        plan = {"machines": [{"name": m["name"], "feet": [f | {"name": foot.name} for f, foot in zip(m["feet"], made[m["name"]])]}
                             for m in a["machines"]]}
        a |= chance(keys, plan, a["draws"], seed)
    write(file, stored)


def write(file, answers):
    with open(file, "w") as f:
        f.write("[\n" + ",\n".join(json.dumps(a) for a in answers) + "\n]\n")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("files", nargs="+")
    parser.add_argument("--store")
    parser.add_argument("--again")
    parser.add_argument("--errors", default="")
    parser.add_argument("--draws", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    if args.again:
        return again(args.again, args.files, args.seed)
    answers = []
    for train, plan in zip(args.files[::2], args.files[1::2]):
        with open(train, "rb") as f:
            keys = tomllib.load(f)
        if args.errors:
            keys.setdefault("errors", dict(zip(("offset", "angle", "placing", "growth", "growth_least"), map(float, args.errors.split(",")))))
        with open(plan, "rb") as f:
            plan = json.load(f)
        answer = chance(keys, plan, args.draws, args.seed)
        moves = [{"name": m["name"], "feet": [{k: f[k] for k in ("up", "left", "axial")} for f in m["feet"]]} for m in plan["machines"]]
        answers.append({"train": os.path.basename(train), "errors": whole(keys["errors"], keys["units"] == "inch"), "draws": args.draws, "machines": moves, **answer})
    if args.store:
        write(args.store, answers)
    else:
        print("\n".join(json.dumps({k: a[k] for k in ("within", "error", "couplings")}) for a in answers))


if __name__ == "__main__":
    main()
