"""Searching cumulative sums: when has enough been gathered since a given day?

All sow days and all years at once; nothing loops over days (docs/design/outlook.md, O2).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from types import ModuleType
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Floats, Ints

NEARLY = 1e-6  # what is short by no more than this is short by rounding alone

Kind = TypeVar("Kind", bound=np.generic)

_loops: ModuleType | None = None


def hastened() -> ModuleType | None:
    """The compiled loops, once `hasten` has been called."""
    return _loops


def hasten() -> None:
    """From now on compiled loops search and sum in this process. They find the same and take a tenth of a
    second to load, seconds where a machine has not yet compiled them: for plans and for many crops."""
    global _loops
    from evenpick.crops import clock_loops

    _loops = clock_loops


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
        if _loops is not None:
            return _by_loop(_loops.between, self.total, first, last)
        return at_days(self.total, last) - at_days(self.total, first)

    def reach(self, start: Ints, need: Floats | float) -> Ints:
        """The day on which `need` has been gathered counting from day `start`.

        start: (years, n). Returns day indices of the same shape; `days` where the axis ends first.
        """
        if _loops is not None:
            return _reach_by_loop(_loops.reach, self.total, start, need)
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
    step = 4.0 * float(total[:, -1].max(initial=0.0)) + 1e5
    total += np.arange(rate.shape[0])[:, None] * step
    return Clock(total)


def means(values: Floats) -> Floats:
    """Running totals (years, days + 1) of any daily value, for means between two days."""
    total = np.zeros((values.shape[0], values.shape[1] + 1))
    if _loops is not None:
        _loops.summed(np.require(values, np.float64, ("C", "A", "W")), total)
    else:
        np.cumsum(values, axis=1, out=total[:, 1:])
    return total


def mean_between(total: Floats, first: Ints, last: Ints) -> Floats:
    """Mean of the daily value from `first` up to, not including, `last`; at least one day is taken."""
    if _loops is not None:
        return _by_loop(_loops.mean_between, total, first, last)
    first = np.minimum(first, total.shape[1] - 2)
    last = np.minimum(np.maximum(last, first + 1), total.shape[1] - 1)
    mean: Floats = (at_days(total, last) - at_days(total, first)) / (last - first)
    return mean


def _by_loop(loop: Callable[..., None], total: Floats, first: Ints, last: Ints) -> Floats:
    shape = total.shape[0], max(first.shape[-1], last.shape[-1])
    found = np.empty(shape)
    loop(total, _laid_out(first, shape), _laid_out(last, shape), found)
    return found


def _reach_by_loop(
    loop: Callable[..., None], total: Floats, start: Ints, need: Floats | float
) -> Ints:
    needs = np.array(need, dtype=np.float64)
    needs = needs if needs.ndim == 2 else np.full((total.shape[0], 1), needs)
    shape = total.shape[0], max(start.shape[-1], needs.shape[1])
    found = np.empty(shape, dtype=np.int64)
    loop(total, _laid_out(start, shape), needs, int(needs.shape[1] > 1), found)
    return found


def _laid_out(days: Ints, shape: tuple[int, int]) -> Ints:
    """Whole, as loops want it: a day a sowing may be told once for all years."""
    if days.shape == shape and days.flags.carray and days.dtype == np.int64:
        return days
    return np.array(np.broadcast_to(days, shape), dtype=np.int64, order="C")


def at_days(table: NDArray[Kind], day: Ints) -> NDArray[Kind]:
    """table[y, day[y, n]] for every year y; table (years, m), day (years, n) → (years, n)."""
    return table.ravel().take(day + _year_starts(*table.shape))


def looked_up(table: NDArray[np.int16], day: Ints) -> Ints:
    """`at_days` of a table of days that is kept in a quarter of their room."""
    if _loops is None:
        return np.asarray(at_days(table, day), dtype=np.int64)
    shape = table.shape[0], day.shape[-1]
    found = np.empty(shape, dtype=np.int64)
    _loops.looked_up(table, _laid_out(day, shape), found)
    return found


@cache
def _year_starts(years: int, columns: int) -> Ints:
    """Where each year begins in a table laid out as one line; (years, 1)."""
    starts: Ints = np.arange(years)[:, None] * columns
    return starts


@cache
def _positions(size: int) -> Floats:
    """0, 1, 2 ... made once for each length of line."""
    return np.arange(size, dtype=np.float64)
