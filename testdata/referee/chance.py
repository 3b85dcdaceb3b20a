#!/usr/bin/python3
"""The chance that a plan ends within the coupling limits, the [errors] of its
train file given, sampled a second time.

    chance.py [--draws N] [--seed N] TRAIN.toml PLAN.json
    chance.py --store FILE.json --errors O,A,P,G TRAIN.toml PLAN.json [TRAIN PLAN ...]

What an error does to a limit is not worked out but looked up: the train file is
read again with one number changed, and the limits of model.py are compared
before and after. --errors are offset, angle, placing and growth for trains that
state none. --store writes plans and answers as testdata/reference keeps them.
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


def columns(keys, v):
    """What each error of one standard deviation adds to each limit."""
    e = {k: s / 1.96 for k, s in keys["errors"].items()}
    before = limits(keys, v)
    out = []

    def changed(make, at=v):
        k = copy.deepcopy(keys)
        make(k)
        out.append([a - b for a, b in zip(limits(k, at), before)])

    for i in range(len(keys["coupling"])):
        for plane in "vh":
            for what in ("offset", "angle"):
                if e.get(what):
                    def more(k):
                        k["coupling"][i]["found"][plane][what] += e[what]
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


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("files", nargs="+")
    parser.add_argument("--store")
    parser.add_argument("--errors", default="")
    parser.add_argument("--draws", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    answers = []
    for train, plan in zip(args.files[::2], args.files[1::2]):
        with open(train, "rb") as f:
            keys = tomllib.load(f)
        if args.errors:
            keys.setdefault("errors", dict(zip(("offset", "angle", "placing", "growth"), map(float, args.errors.split(",")))))
        with open(plan, "rb") as f:
            plan = json.load(f)
        answer = chance(keys, plan, args.draws, args.seed)
        moves = [{"name": m["name"], "feet": [{k: f[k] for k in ("up", "left", "axial")} for f in m["feet"]]} for m in plan["machines"]]
        answers.append({"train": os.path.basename(train), "errors": keys["errors"], "draws": args.draws, "machines": moves, **answer})
    if args.store:
        with open(args.store, "w") as f:
            f.write("[\n" + ",\n".join(json.dumps(a) for a in answers) + "\n]\n")
    else:
        print("\n".join(json.dumps({k: a[k] for k in ("within", "error", "couplings")}) for a in answers))


if __name__ == "__main__":
    main()
