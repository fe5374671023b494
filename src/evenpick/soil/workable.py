"""When open ground can be worked (growth H7), and when it lies under snow."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats

KEPT = 0.85  # share of surface wetness left after a day
TOO_WET = 8.0  # mm; 5 shut August at the Kapiti coast, when growers sow (authorities/calendars.md)
YEAR = 366  # days
REACH = 5  # days either side of the wanted day
MELT = 2.74  # mm of water per day and °C above freezing (neh630ch11, recalled: 1.6 to 6.0)
BARE = 5.0  # mm of water in the snow: with more on it ground is not sown (memory)


def surface_wetness(rain: Floats, et0: Floats) -> Floats:
    """Wetness of the surface, mm: A ← max(0, 0.85 A + rain − ET0); arrays (years, days) in mm d⁻¹.

    A rule of thumb, not a water balance; tuned on calendars in a prototype, not measured.
    """
    wet = np.empty_like(rain)
    state = np.zeros(rain.shape[0])
    for day in range(rain.shape[1]):
        state = np.maximum(0.0, KEPT * state + rain[:, day] - et0[:, day])
        wet[:, day] = state
    return wet


def falls_as_snow(rain: Floats, tmean: Floats) -> Floats:
    """What falls as snow, mm d⁻¹: all that falls on days of a mean at or below 0 °C."""
    return np.where(tmean <= 0.0, rain, 0.0)


def snow_and_water(rain: Floats, tmean: Floats) -> tuple[Floats, Floats]:
    """Water lying as snow, mm, and what reaches the ground, mm d⁻¹; arrays (years, days).

    Falls as snow where the day's mean is at or below 0 °C, melts by degree-days. As much lies before the
    first day as the same year has a year later, on an axis that goes so far. Left out: drifting, settling,
    rain on snow, frost in the ground below it.
    """
    lying = np.empty_like(rain)
    falls, melts = falls_as_snow(rain, tmean), MELT * np.maximum(tmean, 0.0)
    none = np.zeros(rain.shape[0])
    before = _snow(falls[:, :YEAR], melts[:, :YEAR], none, lying[:, :YEAR]) if rain.shape[1] > YEAR else none
    _snow(falls, melts, before, lying)
    # where all that falls comes to lie, rounding would leave a little more or less than nothing
    return lying, np.maximum(rain - np.diff(lying, axis=1, prepend=before[:, None]), 0.0)


def _snow(falls: Floats, melts: Floats, before: Floats, lying: Floats) -> Floats:
    """Fills in what lies on each day, and gives what lies after the last."""
    for day in range(falls.shape[1]):
        before = np.maximum(before + falls[:, day] - melts[:, day], 0.0)
        lying[:, day] = before
    return before


def workable(rain: Floats, et0: Floats) -> Bools:
    """Whether some day within five of each day was dry enough to sow; (years, days)."""
    return _some_day_near(surface_wetness(rain, et0) < TOO_WET)


def bare(snow: Floats) -> Bools:
    """Whether some day within five of each day was free of snow; (years, days)."""
    return _some_day_near(snow <= BARE)


def _some_day_near(good: Bools) -> Bools:
    count = np.concatenate([np.zeros((good.shape[0], 1)), np.cumsum(good, axis=1)], axis=1)
    day = np.arange(good.shape[1])
    last = np.minimum(day + REACH + 1, good.shape[1])
    found: Bools = count[:, last] > count[:, np.maximum(day - REACH, 0)]
    return found
