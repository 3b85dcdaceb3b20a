"""Recomputes a plan by the linear model, from the train file and the moves
that the plan prints."""

import numpy as np


def judge(p, plan, use=None, offset=0.01, angle=0.005):
    """A report on a plan in the form of `leastmove plan --format json`.
    `offset` (mm) and `angle` (mrad) are what the true geometry may differ by
    from the linear model; moves are compared to 1e-6 of the file's unit."""
    if plan.get("status") not in ("planned", "within"):
        return {"status": plan.get("status"), "violations": [], "note": "no plan to judge"}
    if use is None:
        use = plan.get("use", {}).get("aim", 0.7)
        use = max(use, plan.get("use", {}).get("reached", use))
    if plan["status"] == "within":
        use = max(use, 1.0)
    v, broken = moves(p, plan)
    v = p.filled(v)
    limits = []
    for b in p.boxes:
        value = float(b.a @ v + b.b)
        over = max(value - b.hi, b.lo - value)
        limits.append((b.kind, b.where, value, b.hi if value >= 0 else b.lo, over))
    for b in p.balls:
        if b.head is not None:
            continue  # it says what the share is
        value = b.size(v)
        radius = b.radius * (use if b.scaled else 1)
        limits.append((b.kind, b.where, value, radius, value - radius))
    for kind, where, value, limit, over in limits:
        if over > slack(kind, offset, angle):
            broken.append(f"{kind} at {where}: {value:.4f} against {limit:.4f}")
    total = p.total(v) / p.move
    if abs(total - plan["total"]) > (0.006 if p.move == 1 else 0.06):  # as printed
        broken.append(f"total {total:.4f}, the plan says {plan['total']}")
    if plan.get("bound") is not None and plan["bound"] > total + 1e-3:
        broken.append(f"bound {plan['bound']} above the total {total:.6f}")
    broken += misalignments(p, plan, v, offset, angle)
    return {
        "status": plan["status"], "asked": use, "total": total, "use": p.worst_use(v),
        "limits": [{"kind": k, "where": w, "value": a, "limit": l} for k, w, a, l, _ in limits],
        "violations": broken,
    }


def slack(kind, offset, angle):
    if kind in ("pack", "flat", "bend", "travel"):
        return 1e-6  # read off the plan, no geometry in between
    if kind == "sum":
        return 0.01  # of the limits
    if kind in ("level",) or kind.startswith(("angle", "flex")):
        return angle
    return offset


def moves(p, plan):
    """The variables' values, and what is wrong with the moves themselves."""
    broken = []
    v = np.zeros(len(p.variables))
    listed = {m["name"]: m for m in plan.get("machines", [])}
    for m in p.machines:
        said = {f["name"]: f for f in listed.get(m.name, {}).get("feet", [])}
        for name, f in said.items():
            if m.held and (f["up"] or f["left"] or f.get("axial", 0)):
                broken.append(f"{m.name} {name} is held and moves")
            if name not in [g.name for g in m.feet]:
                broken.append(f"{m.name} has no foot {name}")
        for f in m.feet:
            now = f.keys.get("shim")
            then = said.get(f.name, {}).get("pack", {}).get("then")
            if now is not None and then is not None and abs(now + said[f.name]["up"] - then) > 1e-6:
                broken.append(f"{m.name} {f.name}: pack {now} and {said[f.name]['up']} make {then}")
        for j, var in enumerate(p.variables):
            if var.machine != m.name:
                continue
            feet = [m.feet[i] for i in var.feet]
            values = [said.get(f.name, {}).get(var.kind, 0.0) for f in feet]
            value = float(np.mean(values))
            if var.kind != "axial" and max(values) - min(values) > 1e-6:
                broken.append(f"{m.name}, {var.name}: left and right differ: {values}")
            v[j] = value * p.move
            if var.step and var.kind != "axial":
                n = v[j] / var.step
                if abs(n - round(n)) > 1e-5:
                    broken.append(f"{m.name}, {var.name}: {value} is no multiple of {var.step / p.move}")
    return v, broken


def misalignments(p, plan, v, offset, angle):
    """The plan's own misalignments and uses against the linear model."""
    broken = []
    couplings = {c["name"]: c for c in p.keys["coupling"]}
    for c in plan.get("couplings", []):
        keys = couplings.get(c["name"])
        if keys is None:
            broken.append(f"no coupling {c['name']}")
            continue
        for state in c["states"]:
            where = f"{c['name']}, {state['condition']}"
            condition = next((k for k in p.conditions if k[0] == state["condition"]), None)
            if condition is None:
                broken.append(f"{where}: no such condition")
                continue
            off, slope, _ = p.misalignment(keys, condition)
            for stage, w in (("found", p.filled(np.zeros_like(v))), ("planned", v)):
                for plane, k in enumerate("vh"):
                    if k not in state.get(stage, {}):
                        continue
                    for what, form, unit, tol in (("offset", off(plane, keys["x"] * p.length), p.move, offset),
                                                  ("angle", slope(plane), 1, angle)):
                        mine, its = form.row @ w + form.constant, state[stage][k][what] * unit
                        if not abs(mine - its) <= tol + 0.0051 * unit:
                            broken.append(f"{where}: {stage} {k} {what} {mine / unit:.4f}, the plan says {its / unit:.4f}")
                mine = max(b.size(w) / b.radius for b in p.balls if b.scaled and b.where == where)
                least = min((b.radius / (angle if slack(b.kind, 0, 1) else offset) for b in p.balls if b.scaled and b.where == where and b.kind != "sum"))
                its = state.get("use", {}).get(stage)
                if its is not None and abs(mine - its) > 1 / least + 0.006:
                    broken.append(f"{where}: use {stage} {mine:.3f}, the plan says {its:.3f}")
    return broken
