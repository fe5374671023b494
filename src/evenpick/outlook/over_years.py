"""What the years together say of each sow day; (years, n) → (n,)."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Bools, Floats, Ints


def quantiles(days: Floats, least: float = 0.2) -> Mapping[int, Floats]:
    """10, 50 and 90 % of the years that count; NaN where fewer than `least` of them do."""
    ordered = np.sort(days, axis=0)  # NaN sorts last
    count = np.isfinite(days).sum(axis=0)
    enough = count >= max(1.0, least * days.shape[0])
    return {p: np.where(enough, _ranked(ordered, count, p / 100), np.nan) for p in (10, 50, 90)}


def _ranked(ordered: Floats, count: Ints, q: float) -> Floats:
    """Linear interpolation between order statistics of the first `count` of each column."""
    rank = q * np.maximum(count - 1, 0)
    low = np.floor(rank).astype(np.int64)
    high = np.minimum(low + 1, np.maximum(count - 1, 0))
    column = np.arange(ordered.shape[1])
    below, above = ordered[low, column], ordered[high, column]
    return np.asarray(below + (rank - low) * (above - below))


def share_of_years(holds: Bools) -> Floats:
    """Share of the years; (years, n) → (n,)."""
    years = holds.shape[0]
    if years > np.iinfo(np.uint8).max:
        return np.asarray(holds.mean(axis=0))
    # counted in bytes, a good many at a time, and no year is turned into a float for it
    return np.asarray(np.add.reduce(holds.view(np.uint8), axis=0, dtype=np.uint8) / float(years))


def mean_where(values: NDArray[np.float32], counted: Bools) -> Floats:
    """Mean over the years that count, nought where none does; (years, n) → (n,)."""
    count = counted.sum(axis=0)
    total = np.where(counted, values, 0.0).sum(axis=0)
    return np.asarray(total / np.maximum(count, 1))
