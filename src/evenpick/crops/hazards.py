"""What ends or spoils a crop: frost by stage, heat (growth H2, H3)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints

HEAT_SCALE = 0.9  # °C, growth H3


def next_frost(tmin: Floats, kill: float) -> Ints:
    """For each day, the first day from it on whose minimum is below `kill`; `days` where none comes.

    tmin (years, days) → (years, days + 1), so that a day past the end of the axis may be asked.
    """
    return next_that(tmin < kill)


def next_that(holds: Bools) -> Ints:
    """For each day, the first from it on which something holds; shapes as of `next_frost`."""
    years, days = holds.shape
    hit = np.where(holds, np.arange(days), days)
    following = np.full((years, days + 1), days, dtype=np.int64)
    following[:, :-1] = np.minimum.accumulate(hit[:, ::-1], axis=1)[:, ::-1]
    return following


def heat_quality(temperature: Floats, limit: float) -> Floats:
    """Share of quality kept, 1 cool to 0 hot, a half at the limit; logistic, scale 0.9 °C (H3)."""
    over = np.asarray(temperature - limit)  # one array for all that follows: many crops ask this of all years
    over /= HEAT_SCALE
    np.clip(over, -50.0, 50.0, out=over)
    np.exp(over, out=over)
    over += 1.0
    return np.divide(1.0, over, out=over)
