"""The problem as a file in CPLEX LP format for CBC and glpsol, run as
processes, so that their times contain starting up and reading."""

import os
import re
import subprocess
import tempfile
import time

import numpy as np

import solve


def lp_text(p, use, sides, inner, steps, lattice):
    c, A, lo, hi, whole, _ = solve.program(p, use, sides, inner, steps, lattice)
    n = len(whole)
    names = [f"v{j}" for j in range(n)] + [f"t{j}" for j in range(n)]

    def terms(row):
        return " ".join(f"{row[j]:+.17g} {names[j]}" for j in np.flatnonzero(row))

    out = ["Minimize", " cost: " + terms(c), "Subject To"]
    for i, row in enumerate(A):
        if not row.any():
            if lo[i] > 1e-12 or hi[i] < -1e-12:  # a limit that nothing can change
                out += [f" r{i}: t0 <= -1"]
            continue
        if np.isfinite(hi[i]):
            out.append(f" r{i}: {terms(row)} <= {hi[i]:.17g}")
        if np.isfinite(lo[i]):
            out.append(f" s{i}: {terms(row)} >= {lo[i]:.17g}")
    out.append("Bounds")
    out += [f" {names[j]} free" for j in range(n)]
    if whole.any():
        out += ["General"] + [f" {names[j]}" for j in np.flatnonzero(whole)]
    return "\n".join(out + ["End", ""])


def run(command, limit):
    start = time.perf_counter()
    try:
        r = subprocess.run(command, capture_output=True, text=True, timeout=limit + 10)
        text = r.stdout + r.stderr
    except subprocess.TimeoutExpired:
        text = ""
    return text, time.perf_counter() - start


def cbc(p, use, sides=64, inner=True, steps=False, lattice=False, limit=20.0):
    with tempfile.TemporaryDirectory() as folder:
        source, answer = os.path.join(folder, "p.lp"), os.path.join(folder, "out")
        with open(source, "w") as f:
            f.write(lp_text(p, use, sides, inner, steps, lattice))
        _, seconds = run(["cbc", source, "sec", str(limit), "ratio", "1e-7", "solve", "solu", answer], limit)
        first = open(answer).readline() if os.path.exists(answer) else ""
    out = {"status": "unknown", "value": None, "seconds": seconds}
    value = re.search(r"objective value\s+(\S+)", first)
    if first.startswith("Optimal"):
        out |= {"status": "optimal", "value": float(value[1])}
    elif "nfeasible" in first:
        out["status"] = "infeasible"
    elif first.startswith("Stopped") and value and "no integer" not in first:
        out |= {"status": "feasible", "value": float(value[1])}
    return out


def glpsol(p, use, sides=64, inner=True, steps=False, lattice=False, limit=20.0):
    with tempfile.TemporaryDirectory() as folder:
        source, answer = os.path.join(folder, "p.lp"), os.path.join(folder, "out")
        with open(source, "w") as f:
            f.write(lp_text(p, use, sides, inner, steps, lattice))
        text, seconds = run(["glpsol", "--lp", source, "--tmlim", str(int(limit)), "-o", answer], limit)
        report = open(answer).read() if os.path.exists(answer) else ""
    out = {"status": "unknown", "value": None, "seconds": seconds}
    value = re.search(r"^Objective:\s+cost = (\S+)", report, re.M)
    status = re.search(r"^Status:\s+(.+)$", report, re.M)
    if "NO PRIMAL FEASIBLE SOLUTION" in text or "NO FEASIBLE SOLUTION" in text or (status and "INFEASIBLE" in status[1]):
        out["status"] = "infeasible"
    elif status and "OPTIMAL" in status[1] and "NON-OPTIMAL" not in status[1]:
        out |= {"status": "optimal", "value": float(value[1])}
    return out
