#!/usr/bin/python3
"""Outside referees for leastmove: see README.md.

    referee.py [options] TRAIN.toml|FOLDER|- ...
    referee.py judge TRAIN.toml PLAN.json [--use U]
    referee.py stream

Prints one JSON object a line; values are in the file's units of movement.
Exit code 1 where a judged plan has violations, or a referee contradicts
another.
"""

import argparse
import json
import math
import os
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small matrices: threads only cost
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import numpy as np

import judge
import model
import outside
import solve
import stream

REFEREES = ("relaxed", "minmax", "cuts", "cuts-minmax", "mip", "lp", "cbc", "glpsol", "cbc-mip")


def files(paths):
    for path in paths:
        if path == "-":
            yield from (line.strip() for line in sys.stdin if line.strip())
        elif os.path.isdir(path):
            yield from sorted(os.path.join(path, f) for f in os.listdir(path) if f.endswith(".toml"))
        else:
            yield path


def numbers(answer, move, plain=False):
    """An answer in the file's units; NaN and infinity are no JSON."""
    out = {}
    for k, v in answer.items():
        if k == "x":
            continue
        if k in ("value", "bound") and v is not None and not plain:
            v = v / move
        if isinstance(v, float) and not math.isfinite(v):
            v = None
        out[k] = v
    return out


def answers(p, args):
    found = p.worst_use(np.zeros(len(p.variables)))
    out = {"units": p.keys["units"], "variables": len(p.variables), "use": args.use, "found": found}
    if p.touch or p.least_move:
        out["left out"] = "touch and least_move: every value is a lower bound only"
    mip = {"lattice": args.sides == "lattice", "limit": args.limit, "gap": args.gap, "sides": args.polygon}
    raw = {}
    for name in args.with_:
        if name == "relaxed":
            raw[name] = solve.relaxed(p, args.use)
        elif name == "minmax":
            raw[name] = solve.min_max(p)
        elif name == "cuts":
            raw[name] = solve.cuts(p, args.use)
        elif name == "cuts-minmax":
            raw[name] = solve.cuts(p, None)
        elif name == "mip":
            for side, answer in solve.mip(p, args.use, **mip).items():
                raw["mip " + side] = answer
        elif name == "lp":
            raw[name] = solve.linear_time(p, args.use, repeat=args.repeat)
        elif name == "cbc":
            raw[name] = outside.cbc(p, args.use, args.polygon, False)
        elif name == "glpsol":
            raw[name] = outside.glpsol(p, args.use, args.polygon, False)
        elif name == "cbc-mip":
            raw[name] = outside.cbc(p, args.use, args.polygon, True, True, mip["lattice"], args.limit)
    plain = {"minmax", "cuts-minmax"}
    out |= {k: numbers(a, p.move, k in plain) for k, a in raw.items()}
    if args.moves:
        for k, a in raw.items():
            if "x" in a:
                out[k]["moves"] = {f"{v.machine}: {v.name}": x / p.move for v, x in zip(p.variables, a["x"])}
    out["contradictions"] = contradictions(raw)
    return out


def contradictions(raw):
    """What cannot be true at once. Tolerances in mm: HiGHS and CBC let rows be
    off by 1e-7 to 1e-6, which the limits turn into 1e-5 of movement and more."""
    out = []
    best = [k for k in ("relaxed", "cuts") if raw.get(k, {}).get("status") in ("optimal", "infeasible")]
    pairs = [("relaxed", "cuts"), ("minmax", "cuts-minmax")]
    for a, b in pairs:
        if a in raw and b in raw:
            s, t = raw[a]["status"], raw[b]["status"]
            if {s, t} == {"optimal", "infeasible"}:
                out.append(f"{a} is {s}, {b} {t}")
            elif s == t == "optimal":
                loose = max(1e-6, 1e3 * raw[a].get("tolerance", 0))
                tolerance = loose * max(1, abs(raw[a]["value"]))
                if abs(raw[a]["value"] - raw[b]["value"]) > tolerance:
                    out.append(f"{a} {raw[a]['value']:.9g}, {b} {raw[b]['value']:.9g}")
    for k in best[:1]:
        r = raw[k]
        for outer in ("lp", "cbc", "glpsol"):
            o = raw.get(outer, {})
            if r["status"] == "optimal" and o.get("status") == "infeasible":
                out.append(f"{k} is optimal, {outer} infeasible")
            if r["status"] == o.get("status") == "optimal" and o["value"] > r["value"] + 1e-5 * max(1, r["value"]):
                out.append(f"{outer} {o['value']:.9g} outside is above {k} {r['value']:.9g}")
        for inner in ("mip inner", "cbc-mip"):
            i = raw.get(inner, {})
            if i.get("value") is None:
                continue
            if r["status"] == "infeasible":
                out.append(f"{k} is infeasible, {inner} has a plan")
            elif i["value"] < r["value"] - 1e-4 * max(1, r["value"]):
                out.append(f"{inner} {i['value']:.9g} is below {k} {r['value']:.9g}")
    i, o = raw.get("mip inner", {}), raw.get("mip outer", {})
    if i.get("value") is not None:
        if o.get("status") == "infeasible":
            out.append("mip inner has a plan, mip outer none")
        elif o.get("bound") is not None and o["bound"] > i["value"] + 1e-4 * max(1, i["value"]):
            out.append("mip outer's bound is above mip inner's plan")
    return out


def referee(argv):
    a = argparse.ArgumentParser(prog="referee.py", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    a.add_argument("paths", nargs="+")
    a.add_argument("--use", type=float, default=0.7, help="share of every coupling limit (0.7)")
    a.add_argument("--with", dest="with_", default="relaxed,minmax,mip", help="referees, by commas, of: " + " ".join(REFEREES))
    a.add_argument("--sides", choices=("continuous", "lattice"), default="continuous", help="side moves in the MIP")
    a.add_argument("--polygon", type=int, default=64, help="sides of the polygons (64)")
    a.add_argument("--limit", type=float, default=20, help="seconds for each MIP (20)")
    a.add_argument("--gap", type=float, default=1e-6, help="relative gap that ends a MIP (1e-6)")
    a.add_argument("--repeat", type=int, default=5, help="runs of lp, for its median time (5)")
    a.add_argument("--moves", action="store_true", help="print the moves too")
    args = a.parse_args(argv)
    args.with_ = args.with_.split(",")
    if unknown := set(args.with_) - set(REFEREES):
        a.error("no referee " + ", ".join(sorted(unknown)))
    bad = False
    for path in files(args.paths):
        out = {"file": os.path.basename(path)} | answers(model.load(path), args)
        bad |= bool(out["contradictions"])
        print(json.dumps(out), flush=True)
    return int(bad)


def judging(argv):
    a = argparse.ArgumentParser(prog="referee.py judge")
    a.add_argument("train")
    a.add_argument("plan", help="a plan as JSON, or - for standard input")
    a.add_argument("--use", type=float, help="share of the coupling limits (default: the plan's)")
    a.add_argument("--offset", type=float, default=0.01, help="mm allowed between linear model and true geometry (0.01)")
    a.add_argument("--angle", type=float, default=0.005, help="mrad allowed (0.005)")
    a.add_argument("--all", action="store_true", help="print every limit, not the violations alone")
    args = a.parse_args(argv)
    plan = json.load(sys.stdin if args.plan == "-" else open(args.plan))
    out = judge.judge(model.load(args.train), plan, args.use, args.offset, args.angle)
    if not args.all:
        out.pop("limits", None)
    print(json.dumps({"file": os.path.basename(args.train)} | out))
    return int(bool(out["violations"]))


if __name__ == "__main__":
    argv = sys.argv[1:]
    if argv == ["stream"]:
        sys.exit(stream.serve(answers))
    sys.exit(judging(argv[1:]) if argv[:1] == ["judge"] else referee(argv))
