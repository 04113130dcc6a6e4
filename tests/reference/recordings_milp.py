"""The fewest submasters for small shows, proven by scipy's integer programme, for recordings_milp_test.cpp.

Reads one JSON object a line: {"wanted": [[percent, ...] for each cue], "notch": percent}; writes the fewest
submasters that keep within half a notch of every level, all positions and levels being settings of a hand.

Every recording that can be part of a plan is made: for each way to set its positions at the cues (or, where
there are fewer channels, its levels on the channels) the highest levels that pass no limit. What serves cells
that another serves, too, is left out. The fewest that serve all cells is a set cover.
Exit status 77: scipy is not installed.
"""
import itertools
import json
import sys

try:
    import numpy as np
    from scipy.optimize import LinearConstraint, milp
except ImportError:
    sys.exit(77)


def settings(notch):
    return sorted({*range(0, 101, notch), 100})


def served_sets(low, high, grid):
    """Of every column of positions over the rows: the cells that it serves, as bits; the largest sets alone."""
    grid = np.array(grid)
    floor = grid[np.searchsorted(grid, np.arange(101), side="right") - 1]  # the setting at or below a percent
    bit = 1 << np.arange(low.size, dtype=np.uint64).reshape(low.shape)
    found = set()
    for block in blocks(itertools.product(grid.tolist(), repeat=len(low))):
        position = np.array(block)[:, :, None]
        room = np.where(position > 0, high[None] // np.maximum(position, 1), 100)  # high is in 1/10000
        level = floor[np.minimum(room.min(axis=1), 100)][:, None, :]
        serves = (position * level >= low[None]) & (low[None] > 0)
        found.update(np.where(serves, bit[None], np.uint64(0)).sum(axis=(1, 2), dtype=np.uint64).tolist())
    largest = []
    for cells in sorted(found, key=lambda s: -bin(s).count("1")):
        if cells and not any(cells | other == other for other in largest):
            largest.append(cells)
    return largest


def blocks(items, size=20000):
    while block := list(itertools.islice(items, size)):
        yield block


def fewest(wanted, notch):
    # In parts of 10000: a product of two percents. Half a notch is whole there.
    wanted = np.array(wanted, dtype=np.int64) * 100
    low = np.maximum(wanted - notch * 50, 0)
    high = np.minimum(wanted + notch * 50, 10000)
    if len(wanted) > len(wanted[0]):
        low, high = low.T, high.T
    asked = [i for i, cell in enumerate(low.ravel()) if cell > 0]
    if not asked:
        return 0
    sets = served_sets(low, high, settings(notch))
    serves = np.array([[s >> i & 1 for s in sets] for i in asked])
    result = milp(np.ones(len(sets)), constraints=LinearConstraint(serves, lb=1), integrality=np.ones(len(sets)),
                  bounds=(0, 1))
    assert result.status == 0, result.message
    return round(result.fun)


for line in open(sys.argv[1], encoding="utf-8"):
    case = json.loads(line)
    print(fewest(case["wanted"], case["notch"]))
