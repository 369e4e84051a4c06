"""The model of plants/season once more, written apart from it, by numpy and scipy.

Reads from standard input {"signs": path, "model": {...}, "ask": ...} and prints
JSON. Figures by cause are in the order of the table's columns.

  ask = "causes":  cases -> chances of every cause, by enumeration of the model
  ask = "theta":   cases of one species in one garden, one limit -> mean, standard
                   deviation and quantiles of theta: scipy's adaptive quadrature
                   over theta, Gauss-Hermite over gamma and each plant's eta
  ask = "joint":   the same for two limits at once, by drawing from the prior and
                   weighing by the notes (importance sampling, 2 x 20,000 draws)
  ask = "sun":     cases of one species -> mean and standard deviation of with how
                   much less sun it does than stated, hours, by a sum over 401 of them
"""
import csv
import json
import sys

import numpy as np
from scipy import integrate, stats

CAUSES = ["fine", "too_wet", "too_deep", "too_dry", "too_shaded", "too_exposed", "slow", "other"]
OF_LIMIT = [1, 2, 3, 5]


def table(path):
    signs, vigour = {}, {}
    with open(path, newline="", encoding="utf-8") as f:
        for row in csv.DictReader(f):
            p = np.array([float(row[c]) for c in CAUSES])
            if row["sign"].startswith("vigour "):
                vigour[int(row["sign"][7:])] = p
            else:
                signs[row["sign"]] = p
    return signs, vigour


def likelihood(tab, model, case):
    signs, vigour = tab
    like = np.ones(8)
    if case["vigour"] >= 0:
        like = like * vigour[case["vigour"]]
    for name, p in signs.items():
        if name in case["seen"]:
            like = like * p
        elif name in case["absent"]:
            like = like * (1 - p)
        elif case["vigour"] != 0:
            like = like * (1 - p) ** model["unseen"]
    return like


def base(model, case):
    """Odds of the causes but for what weather did."""
    def odds(p):
        return p / (1 - p)

    def sun(off, mean, sd):  # the loss, averaged over where the end may be
        loss = max(off - mean, 0)
        if sd > 0:
            z = (off - mean) / sd
            loss = sd * (z * stats.norm.cdf(z) + stats.norm.pdf(z))
        return odds(min(max(model["sun"], 0.1 * loss), 0.95))
    ends = case.get("ends") or [[0, 0], [0, 0]]
    w = np.zeros(8)
    w[0] = 1
    w[4] = sun(case["short"], *ends[0])
    w[5] = sun(case["over"], *ends[1])
    w[6] = odds(model["slow"] * np.exp(-max(case["months"], 0) / model["slow_months"]))
    w[7] = model["other"]
    return w


def chance(model, case, like, shift):
    """Chance of the notes; shift: how much more is borne, an array by limit."""
    w = base(model, case)
    w = [np.asarray(v, dtype=float) for v in w]
    for k in range(4):
        if case["severity"][k] is None:
            w[OF_LIMIT[k]] = w[OF_LIMIT[k]] + model["floor"]
            continue
        x = case["severity"][k] * np.exp(-shift[k])
        w[OF_LIMIT[k]] = w[OF_LIMIT[k]] + model["floor"] + x ** (1 / model["steep"])
    total = sum(w)
    return sum(v * l for v, l in zip(w, like)) / total


def causes(tab, model, cases):
    out = []
    for case in cases:
        like = likelihood(tab, model, case)
        w = base(model, case)
        for k in range(4):
            b = case["belief"][k]
            if k == 1:  # depth counts by the hours that are borne
                share, wet = case["deep_by_wet"], case["belief"][0]
                b = [b[0] + share * wet[0], np.hypot(b[1], share * wet[1])]
            wide = np.hypot(model["steep"], b[1] * np.sqrt(3) / np.pi)
            w[OF_LIMIT[k]] += model["floor"]
            if case["severity"][k]:
                w[OF_LIMIT[k]] += (case["severity"][k] / np.exp(b[0])) ** (1 / wide)
        p = w * like
        out.append(list(p / p.sum()))
    return out


def sun_end(tab, model, cases):
    t = np.linspace(-2.1, 2.1, 401)
    logs = -t * t / model["sun_spread"] ** 2 / 2
    for case in cases:
        like = likelihood(tab, model, case)
        logs += [np.log(chance(model, dict(case, ends=[[x, 0], [0, 0]]), like, [0] * 4)) for x in t]
    p = np.exp(logs - logs.max())
    p /= p.sum()
    mean = float((p * t).sum())
    return {"mean": mean, "sd": float(np.sqrt((p * (t - mean) ** 2).sum()))}


def by_plant(tab, model, cases):
    plants = {}
    for case in cases:
        plants.setdefault(case["plant"], []).append((case, likelihood(tab, model, case)))
    return list(plants.values())


def theta(tab, model, cases, limit):
    plants = by_plant(tab, model, cases)
    node, weight = np.polynomial.hermite_e.hermegauss(40)
    weight = weight / weight.sum()
    gamma_sd = 0 if limit == 3 else model["gamma"]

    many, many_weight = np.polynomial.hermite_e.hermegauss(80)
    many_weight = many_weight / many_weight.sum()

    def notes(v):  # chance of all notes, theta - gamma = v, an array
        out = np.ones_like(v)
        for seasons in plants:
            p = np.ones((len(v), len(node)))
            for case, like in seasons:
                shift = [0.0] * 4
                shift[limit] = v[:, None] + model["eta"] * node[None, :]
                p = p * chance(model, case, like, shift)
            out = out * (p * weight[None, :]).sum(axis=1)
        return out

    def density(t):
        prior = np.exp(-t * t / model["tau"] ** 2 / 2)
        return prior * float((many_weight * notes(t - gamma_sd * many)).sum())

    def integral(f, low, high):
        return integrate.quad(f, low, high, epsabs=0, epsrel=1e-6, limit=200)[0]
    low, high = -5 * model["tau"], 5 * model["tau"]
    total = integral(density, low, high)
    mean = integral(lambda t: t * density(t), low, high) / total
    square = integral(lambda t: (t - mean) ** 2 * density(t), low, high) / total
    grid = np.linspace(low, high, 401)
    cumulative = integrate.cumulative_trapezoid([density(t) for t in grid], grid, initial=0)
    cumulative /= cumulative[-1]
    quantiles = [float(np.interp(q, cumulative, grid)) for q in (0.05, 0.5, 0.95)]
    return {"mean": mean, "sd": float(np.sqrt(square)), "quantiles": quantiles}


def joint(tab, model, cases, limits):
    plants = by_plant(tab, model, cases)
    rng = np.random.default_rng(1)
    n = 20000
    node, weight = np.polynomial.hermite_e.hermegauss(12)
    weight = weight / weight.sum()
    t = rng.normal(0, model["tau"], (n, 2))
    t = np.concatenate([t, -t])
    g = rng.normal(0, model["gamma"], (n, 2))
    g = np.concatenate([g, -g])
    log = np.zeros(2 * n)
    for seasons in plants:
        p = np.ones((2 * n, len(node), len(node)))
        for case, like in seasons:
            shift = [0.0] * 4
            shift[limits[0]] = ((t - g)[:, 0])[:, None, None] + model["eta"] * node[None, :, None]
            shift[limits[1]] = ((t - g)[:, 1])[:, None, None] + model["eta"] * node[None, None, :]
            p *= chance(model, case, like, shift)
        log += np.log((p * weight[None, :, None] * weight[None, None, :]).sum(axis=(1, 2)))
    w = np.exp(log - log.max())
    w /= w.sum()
    out = []
    for k in range(2):
        mean = float((w * t[:, k]).sum())
        out.append({"mean": mean, "sd": float(np.sqrt((w * (t[:, k] - mean) ** 2).sum()))})
    return {"limits": out, "effective": float(1 / (w ** 2).sum())}


def main():
    ask = json.load(sys.stdin)
    tab = table(ask["signs"])
    if ask["ask"] == "causes":
        out = causes(tab, ask["model"], ask["cases"])
    elif ask["ask"] == "theta":
        out = theta(tab, ask["model"], ask["cases"], ask["limits"][0])
    elif ask["ask"] == "sun":
        out = sun_end(tab, ask["model"], ask["cases"])
    else:
        out = joint(tab, ask["model"], ask["cases"], ask["limits"])
    json.dump(out, sys.stdout)


main()
