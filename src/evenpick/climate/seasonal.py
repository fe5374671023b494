"""Daily values through twelve monthly ones, keeping every month's mean.

Of all 365-day cycles with the wanted monthly means, the one with the least sum of squared day-to-day
steps (the mean-preserving quadratic spline): months keep their means, and nothing jumps at month ends.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.language import tell

MONTH_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_OF_DAY: Ints = np.repeat(np.arange(12), MONTH_LENGTHS)
DAYS_OF_CYCLE: Floats = np.arange(1.0, 366.0)
TURNED, TURNED_BY = 30.0, 1.0
"""degrees of latitude, and of warmth; at every packaged station so far out summer is where it should be"""


def cycle(monthly: Floats) -> Floats:
    """Smooth cycle of 365 days through twelve monthly means; shape (12,) to (365,), any unit.

    The means of the months come back to rounding. Between month middles it may pass the largest
    monthly value by about a tenth of the difference to the neighbours. Periodic: December joins January.
    """
    return np.asarray(_spread() @ np.asarray(monthly, dtype=np.float64))


def positive_cycle(monthly: Floats, most: float = np.inf) -> Floats:
    """The same for a quantity that can't be negative (nor above `most`); a month of 0 is 0 throughout.

    Where the smooth cycle would leave the bounds it is cut there and the month scaled to its mean.
    """
    monthly = np.asarray(monthly, dtype=np.float64)
    daily = np.clip(cycle(monthly), 0.0, most)
    means = month_means(daily)
    scale = np.divide(monthly, means, out=np.zeros(12), where=means > 0)
    return np.asarray(np.minimum(daily * scale[MONTH_OF_DAY], most))


def month_means(daily: Floats) -> Floats:
    """Mean of each month of a 365-day cycle; shape (365,) to (12,)."""
    return np.asarray(np.bincount(MONTH_OF_DAY, daily, 12) / np.array(MONTH_LENGTHS))


def cycle_days(start: int, days: int) -> Ints:
    """Place in the 365-day cycle (0 to 364) of `days` days from day `start`; 29 February as the 28th."""
    dates = np.datetime64(start, "D") + np.arange(days)
    months = dates.astype("datetime64[M]")
    day_of_month = (dates - months.astype("datetime64[D]")).astype(np.int64)
    month = months.astype(np.int64) % 12
    first = np.concatenate([[0], np.cumsum(MONTH_LENGTHS)[:-1]])
    place: Ints = first[month] + np.minimum(day_of_month, np.array(MONTH_LENGTHS)[month] - 1)
    return place


@lru_cache(maxsize=1)
def _spread() -> Floats:
    """The (365, 12) matrix from monthly means to the cycle: a quadratic programme with twelve equalities."""
    step = np.eye(365) - np.roll(np.eye(365), 1, axis=1)
    mean = np.zeros((12, 365))
    mean[MONTH_OF_DAY, np.arange(365)] = 1.0 / np.repeat(MONTH_LENGTHS, MONTH_LENGTHS)
    system = np.block([[step.T @ step, mean.T], [mean, np.zeros((12, 12))]])
    wanted = np.vstack([np.zeros((365, 12)), np.eye(12)])
    return np.asarray(np.linalg.solve(system, wanted)[:365])


def half_a_year_out(lat: float, june: float, december: float) -> str:
    """What is wrong with maxima, means of June to August and of December to February, for a latitude; ''
    where nothing is."""
    if lat >= TURNED and june < december - TURNED_BY:
        return tell("it is warmer from December to February than from June to August, but {lat:g} is north "
                    "of the equator.", lat=lat)
    if lat <= -TURNED and june > december + TURNED_BY:
        return tell("it is warmer from June to August than from December to February, but {lat:g} is south "
                    "of the equator.", lat=lat)
    return ""
