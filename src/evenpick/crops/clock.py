"""Searching cumulative sums: when has enough been gathered since a given day?

All sow days and all years at once; nothing loops over days (docs/design/outlook.md, O2).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Floats, Ints

NEARLY = 1e-6  # what is short by no more than this is short by rounding alone

Kind = TypeVar("Kind", bound=np.generic)


@dataclass(frozen=True, slots=True)
class Clock:
    """Running totals of a daily rate that is never negative.

    total: (years, days + 1); total[y, d] is what was gathered before day d, plus a step for every year
    before y, so that all years stand in one ascending line and a single search serves them all.
    """

    total: Floats

    @property
    def days(self) -> int:
        return int(self.total.shape[1]) - 1

    @property
    def rate(self) -> Floats:
        """What each day gathers; (years, days)."""
        return np.diff(self.total, axis=1)

    def between(self, first: Ints, last: Ints) -> Floats:
        """What is gathered from day `first` up to, not including, day `last`; (years, n)."""
        return at_days(self.total, last) - at_days(self.total, first)

    def reach(self, start: Ints, need: Floats | float) -> Ints:
        """The day on which `need` has been gathered counting from day `start`.

        start: (years, n). Returns day indices of the same shape; `days` where the axis ends first.
        """
        target = at_days(self.total, start) + (need - NEARLY)
        line = self.total.ravel()
        # interp begins each search where the last one ended: half the time of searchsorted on days in order
        passed = np.interp(target, line, _positions(line.size)).astype(np.int64)
        day: Ints = passed - _year_starts(*self.total.shape)
        return np.minimum(np.maximum(day, start, out=day), self.days, out=day)

    def back(self, end: Ints, need: Floats | float) -> Ints:
        """The last day counting from which `need` has been gathered by day `end`; 0 where the axis begins too
        late. Shapes as of `reach`."""
        target = at_days(self.total, end) - (need - NEARLY)
        line = self.total.ravel()
        passed = np.floor(np.interp(target, line, _positions(line.size))).astype(np.int64)
        day: Ints = passed - _year_starts(*self.total.shape)
        return np.maximum(np.minimum(day, end, out=day), 0, out=day)


def clock(rate: Floats) -> Clock:
    """A Clock of a daily rate with shape (years, days)."""
    total = means(rate)
    # a need of up to a whole axis's sum must never reach into the next year
    step = 4.0 * float(total.max(initial=0.0)) + 1e5
    total += np.arange(rate.shape[0])[:, None] * step
    return Clock(total)


def means(values: Floats) -> Floats:
    """Running totals (years, days + 1) of any daily value, for means between two days."""
    total = np.zeros((values.shape[0], values.shape[1] + 1))
    np.cumsum(values, axis=1, out=total[:, 1:])
    return total


def mean_between(total: Floats, first: Ints, last: Ints) -> Floats:
    """Mean of the daily value from `first` up to, not including, `last`; at least one day is taken."""
    first = np.minimum(first, total.shape[1] - 2)
    last = np.minimum(np.maximum(last, first + 1), total.shape[1] - 1)
    mean: Floats = (at_days(total, last) - at_days(total, first)) / (last - first)
    return mean


def at_days(table: NDArray[Kind], day: Ints) -> NDArray[Kind]:
    """table[y, day[y, n]] for every year y; table (years, m), day (years, n) → (years, n)."""
    return table.ravel().take(day + _year_starts(*table.shape))


@cache
def _year_starts(years: int, columns: int) -> Ints:
    """Where each year begins in a table laid out as one line; (years, 1)."""
    starts: Ints = np.arange(years)[:, None] * columns
    return starts


@cache
def _positions(size: int) -> Floats:
    """0, 1, 2 ... made once for each length of line."""
    return np.arange(size, dtype=np.float64)
