"""Which sowings can catch another up: those made while it grows, or while which it would have grown (O7)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats


def quickest_in_reach(quickest: Floats, days: Floats, year: int) -> Floats:
    """Of consecutive sow days of a round `year`, the fewest days of the sowings made no longer before or
    after each than it takes itself; without end where none is; (n,). `days` may be NaN, `quickest` without
    end."""
    at = np.arange(days.size)
    apart = np.abs(at[:, None] - at)
    apart = np.minimum(apart, np.abs(year - apart))
    return np.asarray(np.where(apart <= np.nan_to_num(days)[:, None], quickest, np.inf).min(axis=1))
