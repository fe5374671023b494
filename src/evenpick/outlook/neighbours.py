"""What a sow day is held against: the best that could be had by sowing about then (outlook-cases.md, O7)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints

BEST_AT_LEAST = 0.35
NEIGHBOURS = 60  # days either side: a sowing is held against those that could be made about then (O7; tuned)
OF_SEASON = 0.85  # of its season's best that what frost kills is held against too (O7; tuned)
VALLEY = 0.9  # of a sow day's worth: times that are worse part two seasons (tuned)
HALF_YEAR = 183
ROUND = 366  # days of a year of sow days
OFF_SEASON = 0.5  # of the year's best that the best about then must count as, at least (tuned)


def best_about(raw: Floats, year: int | None, tender: bool) -> Floats:
    """The best of each sow day's neighbours: a June picking is not made good by a better one in October.
    Of what frost kills, a part of its season's best too."""
    round_it = round_the_year(raw, year, NEIGHBOURS)
    around = _most_of_each(round_it, 2 * NEIGHBOURS + 1)
    most = float(raw.max(initial=0.0))
    best = np.maximum(around, max(OFF_SEASON * most, BEST_AT_LEAST))
    if tender:
        at = np.flatnonzero(best < OF_SEASON * most)
        season = best_of_season(round_the_year(raw, year, HALF_YEAR), at + HALF_YEAR)
        best[at] = np.maximum(best[at], OF_SEASON * season)
    return np.asarray(best)


def _most_of_each(values: Floats, several: int) -> Floats:
    """The greatest of each day and those after it, so many in all, where there are as many: that of twice as
    many is the greater of two halves'."""
    most, done = values, 1
    while 2 * done <= several:
        most, done = np.maximum(most[:-done], most[done:]), 2 * done
    rest = several - done
    return np.maximum(most[: most.size - rest], most[rest:])


def round_the_year(raw: Floats, year: int | None, days: int) -> Floats:
    """The sow days with so many before and after; worth nothing where days do not come round."""
    if year is None:
        return np.pad(raw, days)
    return np.concatenate([raw[year - days : year], raw, raw[raw.size - year :][:days]])


def best_of_season(raw: Floats, at: Ints) -> Floats:
    """The best that can be had by sowing sooner or later than on the days `at` with no worse time between;
    (n,) of them."""
    return most_of_season(raw, raw, at)


def most_of_season(value: Floats, worth: Floats, at: Ints) -> Floats:
    """The greatest `value` of sowing sooner or later than on the days `at` with no time between that is
    worse by its `worth`; (n,) of them."""
    days, here = np.pad(worth, 1, constant_values=-np.inf), at[:, None] + 1
    worse = days < VALLEY * days[here]
    column = np.arange(days.size)
    until = (worse & (column > here)).argmax(axis=1)
    since = days.size - 1 - (worse & (column < here))[:, ::-1].argmax(axis=1)
    had = np.pad(value, 1, constant_values=-np.inf)
    return np.asarray(np.maximum.reduceat(had, np.stack([since + 1, until], axis=1).ravel())[::2])
