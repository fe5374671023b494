"""The clock's searches and sums, and the growth that it gathers, as compiled loops (base/compiled), for the
many that calendars of all crops make; crops/clock and crops/development say what they find, and find the same
to the bit without. Imported where `hasten` is called.

`need` (years, 1) or, `wide`, (years, n); `start`, `first`, `last` and `found` (years, n).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Floats, Ints
from evenpick.base.compiled import compiled
from evenpick.crops.clock import NEARLY


@compiled("void(f8[:, ::1], i8[:, ::1], f8[:, ::1], i8, i8[:, ::1])")
def reach(total: Floats, start: Ints, need: Floats, wide: int, found: Ints) -> None:
    """Sow days follow each other, so each search begins where the last one ended; where that is too far it
    halves what is left."""
    years, n = start.shape
    end = total.shape[1] - 1
    for y in range(years):
        at = 0
        for k in range(n):
            low = min(max(start[y, k], 0), end)
            target = total[y, low] + (need[y, k * wide] - NEARLY)
            if at < low:
                at = low
            elif total[y, at] > target:
                high = at
                while high - low > 1:
                    middle = (low + high) // 2
                    if total[y, middle] <= target:
                        low = middle
                    else:
                        high = middle
                at = low
            while at < end and total[y, at + 1] <= target:
                at += 1
            found[y, k] = at


@compiled("void(f8[:, ::1], f8[:, ::1])")
def summed(values: Floats, total: Floats) -> None:
    years, days = values.shape
    for y in range(years):
        so_far = 0.0
        for d in range(days):
            so_far += values[y, d]
            total[y, d + 1] = so_far


@compiled("void(i2[:, ::1], i8[:, ::1], i8[:, ::1])")
def looked_up(table: NDArray[np.int16], day: Ints, found: Ints) -> None:
    years, n = day.shape
    end = table.shape[1] - 1
    for y in range(years):
        for k in range(n):
            found[y, k] = table[y, min(day[y, k], end)]


@compiled("void(f8[:, ::1], i8[:, ::1], i8[:, ::1], f8[:, ::1])")
def between(total: Floats, first: Ints, last: Ints, found: Floats) -> None:
    years, n = first.shape
    end = total.shape[1] - 1
    for y in range(years):
        for k in range(n):
            found[y, k] = total[y, min(last[y, k], end)] - total[y, min(first[y, k], end)]


@compiled("void(f8[:, ::1], i8[:, ::1], i8[:, ::1], f8[:, ::1])")
def mean_between(total: Floats, first: Ints, last: Ints, found: Floats) -> None:
    years, n = first.shape
    end = total.shape[1] - 1
    for y in range(years):
        for k in range(n):
            a = min(first[y, k], end - 1)
            b = min(max(last[y, k], a + 1), end)
            found[y, k] = (total[y, b] - total[y, a]) / (b - a)


@compiled("void(f8[:, ::1], f8[:, ::1], f8[:, ::1], f8, f8, f8, f8, f8, f8[:, ::1], f8[:, ::1])")
def growth(
    tmin: Floats, tmax: Floats, radiation: Floats, base: float, peak: float, ceiling: float, fall: float,
    light: float, steps: Floats, found: Floats,
) -> None:
    """`steps` (1, k) of the day's cosine; `fall` nought where it stays at its `peak`."""
    years, days = tmin.shape
    count = steps.shape[1]
    for y in range(years):
        for d in range(days):
            mean, half = (tmin[y, d] + tmax[y, d]) / 2, (tmax[y, d] - tmin[y, d]) / 2
            total = 0.0
            for k in range(count):
                at = mean + half * steps[0, k]
                falling = (ceiling - at) * fall if fall else peak
                total += max(min(at - base, falling), 0.0)
            total /= count
            whole = radiation[y, d] + light * total
            found[y, d] = total * radiation[y, d] / whole if whole > 0 else 0.0
