"""Solve integer programmes in the LP format that plants/list writes.

Usage: python3 second.py SECONDS[:GAP] FILE...
Stops at a relative gap of GAP, 0 unless given.
Prints a line for each file: the status of scipy.optimize.milp (0 is optimal),
the objective, the upper bound, and name=value for each variable that is not 0.
It reads only as much of the LP format as the planting list uses.
"""

import sys

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix


def read(path):
    section, objective, rows, limits, whole = None, {}, [], {}, set()
    current = None
    for raw in open(path):
        line = raw.strip()
        if line in ("Maximize", "Subject To", "Bounds", "General", "Binary", "End"):
            section = line
            continue
        if section == "General":
            whole.add(line)
            continue
        if section == "Binary":
            whole.add(line)
            limits[line] = (0.0, 1.0)
            continue
        if section == "Bounds":
            low, _, name, _, high = line.split()
            limits[name] = (float(low), float(high))
            continue
        if ":" in line:
            line = line.split(":", 1)[1]
            current = [objective if section == "Maximize" else {}, None, None]
            if section == "Subject To":
                rows.append(current)
        factor = 1.0
        words = iter(line.split())
        for word in words:
            if word in ("<=", ">=", "="):
                current[1], current[2] = word, float(next(words))
            elif word in ("+", "-"):
                factor = -1.0 if word == "-" else 1.0
            else:
                try:
                    factor *= float(word)
                except ValueError:
                    current[0][word] = current[0].get(word, 0.0) + factor
                    factor = 1.0
    return objective, rows, limits, whole


def solve(path, seconds, gap):
    objective, rows, limits, whole = read(path)
    names = sorted({n for r in rows for n in r[0]} | set(objective) | set(limits) | whole)
    index = {n: i for i, n in enumerate(names)}
    cost = np.zeros(len(names))
    for n, f in objective.items():
        cost[index[n]] = -f
    entries = [(f, j, index[n]) for j, r in enumerate(rows) for n, f in r[0].items()]
    data, i, j = zip(*entries)
    matrix = coo_matrix((data, (i, j)), shape=(len(rows), len(names))).tocsr()
    low = [-np.inf if r[1] == "<=" else r[2] for r in rows]
    high = [np.inf if r[1] == ">=" else r[2] for r in rows]
    bounds = Bounds([limits.get(n, (0, 0))[0] for n in names], [limits.get(n, (0, np.inf))[1] for n in names])
    answer = milp(
        cost,
        constraints=LinearConstraint(matrix, low, high),
        bounds=bounds,
        integrality=[1 if n in whole else 0 for n in names],
        options={"time_limit": seconds, "mip_rel_gap": gap},
    )
    if answer.x is None:
        print(answer.status, "nan", "nan")
        return
    values = [f"{n}={float(v)!r}" for n, v in zip(names, answer.x) if abs(v) > 1e-9]
    print(answer.status, repr(-answer.fun), repr(-answer.mip_dual_bound), *values)


seconds, _, gap = sys.argv[1].partition(":")
for path in sys.argv[2:]:
    solve(path, float(seconds), float(gap or 0))
