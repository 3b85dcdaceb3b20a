#!/usr/bin/python3
"""Makes the reference reliefs in testdata/reference: see the README there.

    relief.py [--jobs 2] -o FILE.json FOLDER

FOLDER holds train files FAMILY-SEED.toml, as testdata/families/write writes
them. Of those whose limits can hold together at a use of 1, whole steps left
out, nothing is written. FILE.json is written anew, one train a line, in the
order of the names.
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

import elastic
import model


def rounded(answer):
    return {k: float(f"{v:.12g}") if k in ("value", "bound") else v for k, v in answer.items()}


def relief(path):
    family, seed = re.fullmatch(r"(.+)-(\d+)\.toml", os.path.basename(path)).groups()
    text = open(path, "rb").read()
    p = model.loads(text.decode())
    if not elastic.impossible(p):
        return None
    out = {"family": family, "seed": int(seed), "sha256": hashlib.sha256(text).hexdigest(), "slides": True}
    for k, a in elastic.least(p).items():
        out[k] = [rounded(b) for b in a] if k == "widen" else rounded(a)
    return out


def main():
    a = argparse.ArgumentParser(prog="relief.py", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    a.add_argument("folder")
    a.add_argument("-o", required=True, dest="output")
    a.add_argument("--jobs", type=int, default=2)
    args = a.parse_args()
    names = sorted((f for f in os.listdir(args.folder) if f.endswith(".toml")), key=lambda f: re.sub(r"\d+", lambda d: d[0].zfill(9), f))
    head = {"cost": elastic.COST, "most": elastic.MOST, "widen": elastic.WIDEN, "drawn": len(names),
            "python": platform.python_version(), "numpy": np.__version__, "cvxopt": cvxopt.__version__}
    lines = []
    with multiprocessing.Pool(args.jobs) as pool:
        for name, r in zip(names, pool.imap(relief, [os.path.join(args.folder, f) for f in names])):
            if r is None:
                print(name, "may have a plan", file=sys.stderr, flush=True)
                continue
            print(name, *(r[k] for k in (*elastic.KINDS, "mix")), file=sys.stderr, flush=True)
            lines.append(json.dumps(r))
    with open(args.output, "w") as f:
        f.write('{"made": ' + json.dumps(head) + ', "trains": [\n' + ",\n".join(lines) + "\n]}\n")


if __name__ == "__main__":
    main()
