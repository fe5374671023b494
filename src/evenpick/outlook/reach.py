"""Which sowings can catch another up: those made while it grows, or while which it would have grown (O7)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats


def quickest_in_reach(quickest: Floats, days: Floats, year: int) -> Floats:
    """Of consecutive sow days of a round `year`, the fewest days of the sowings made no longer before or
    after each than it takes itself; without end where none is; (n,). `days` may be NaN, `quickest` without
    end."""
    once = np.full(year, np.inf)
    once[: quickest.size] = quickest[:year]
    least = [np.tile(once, 3)]  # of stretches of 1, 2, 4 ... days from each
    while 2 ** len(least) <= year:
        half = 2 ** (len(least) - 1)
        least.append(np.minimum(least[-1], np.roll(least[-1], -half)))
    reach = np.minimum(np.nan_to_num(days), (year - 1) // 2).astype(np.int64)
    size = np.frexp(2.0 * reach + 1.0)[1] - 1  # the longest stretch that is no longer than all of it
    first = year + np.arange(days.size) % year - reach
    two = np.stack([first, first + 2 * reach + 1 - 2**size])
    return np.asarray(np.stack(least)[size, two].min(axis=0))
