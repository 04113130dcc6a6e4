"""Highest luminance at the nearest chromaticity by scipy, for colour_linprog_test.cpp.

Reads one JSON object a line: {"emitters": [[x, y, lumens], ...], "target": [x, y]}; writes one line for each:
the distance of the target from the gamut in u'v', the highest luminance at the target or else at the point of
the gamut nearest to it, and the least total of levels that gives it.
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


SAME = 1e-7  # in u'v': what is this near counts as one point


def nearest_point(xy, target):
    """Of the gamut, in u'v': shares >= 0 that add up to 1 (by a heavy third equation) with the nearest mean."""
    heavy = 1e4
    a = np.vstack([(uv(xy) - uv(target)).T, heavy * np.ones(len(xy))])
    shares, _ = nnls(a, np.array([0, 0, heavy]))
    return uv(target) + (uv(xy) - uv(target)).T @ shares


def along_edge(xy, lumens, target, nearest):
    """Which emitters stand on the edge square to the way from the target, and their pulls along it."""
    way = (uv(target) - nearest) / np.linalg.norm(uv(target) - nearest)
    on_edge = np.abs((uv(xy) - nearest) @ way) < SAME
    along = (uv(xy) - nearest) @ np.array([-way[1], way[0]])
    along[np.abs(along) < SAME] = 0
    weight = lumens * (-2 * xy[:, 0] + 12 * xy[:, 1] + 3) / xy[:, 1]  # X + 15Y + 3Z
    return on_edge, (weight * along)[None, on_edge]


def best(lumens, pulls):
    """The luminance is hardly less in the second programme: more would be given away for the total of levels."""
    equations = {"A_eq": pulls, "b_eq": np.zeros(len(pulls)), "bounds": (0, 1), "method": "highs"}
    luminance = -linprog(-lumens, **equations).fun
    as_bright = {"A_ub": [-lumens], "b_ub": [-luminance * (1 - 1e-12)]}
    return luminance, linprog(np.ones(len(lumens)), **as_bright, **equations).fun


for line in open(sys.argv[1], encoding="utf-8"):
    case = json.loads(line)
    rows, target = np.array(case["emitters"]), np.array(case["target"])
    xy, lumens = rows[:, :2], rows[:, 2]
    nearest = nearest_point(xy, target)
    away = np.linalg.norm(nearest - uv(target))
    if away < SAME:
        luminance, total = best(lumens, (lumens / xy[:, 1] * (xy - target).T))
    else:
        on_edge, pulls = along_edge(xy, lumens, target, nearest)
        luminance, total = best(lumens[on_edge], pulls)
    print(repr(float(away)), repr(float(luminance)), repr(float(total)))
