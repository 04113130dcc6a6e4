"""Highest luminance and nearest chromaticity by scipy, for colour_linprog_test.cpp.

Reads one JSON object a line: {"emitters": [[x, y, lumens], ...], "target": [x, y]}; writes one line for each:
the distance of the target from the gamut in u'v', the highest luminance, and the least total of levels that gives it
(both 0 where the target is out of gamut).
Exit status 77: scipy is not installed.
"""
import json
import sys

try:
    import numpy as np
    from scipy.optimize import linprog, nnls
except ImportError:
    sys.exit(77)


def uv(xy):
    d = -2 * xy[..., 0] + 12 * xy[..., 1] + 3
    return np.stack([4 * xy[..., 0] / d, 9 * xy[..., 1] / d], axis=-1)


def gamut_distance(xy, target):
    """Shares >= 0 that add up to 1 (by a heavy third equation) with their mean nearest to the target."""
    heavy = 1e4
    a = np.vstack([(uv(xy) - uv(target)).T, heavy * np.ones(len(xy))])
    shares, _ = nnls(a, np.array([0, 0, heavy]))
    return float(np.linalg.norm((uv(xy) - uv(target)).T @ shares))


def best_levels(xy, lumens, target):
    whole = lumens / xy[:, 1]  # X + Y + Z
    equations = {"A_eq": (whole[:, None] * (xy - target)).T, "b_eq": [0, 0], "bounds": (0, 1), "method": "highs"}
    luminance = -linprog(-lumens, **equations).fun
    as_bright = {"A_ub": [-lumens], "b_ub": [-luminance * (1 - 1e-9)]}
    return luminance, linprog(np.ones(len(xy)), **as_bright, **equations).fun


for line in open(sys.argv[1], encoding="utf-8"):
    case = json.loads(line)
    rows, target = np.array(case["emitters"]), np.array(case["target"])
    away = gamut_distance(rows[:, :2], target)
    luminance, total = best_levels(rows[:, :2], rows[:, 2], target) if away < 1e-7 else (0.0, 0.0)
    print(repr(away), repr(float(luminance)), repr(float(total)))
