"""The usual year at a place: its mean over all years, and the days on which it turns, each made once."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Development
from evenpick.crops.hazards import next_frost, next_that
from evenpick.outlook.setting import Setting

STANDSTILL = 0.25  # of the peak of growth; why not growth.md's 0.16: docs/design/outlook-cases.md, O9
FRUITING = 11.5  # °C, 21-day mean below which most pods and fruits no longer fill (memory; O10)
SMOOTH = 21  # days
MILD = 10.0  # °C, the usual mean of the coldest weeks: growers there pick between frosts (tuned)
DARK = 9.75  # h of the sun's centre; by the almanac ten, without which little grows (sonomafall)
HALF_YEAR = 150  # days either side within which the coldest day is looked for


def smoothed(values: Floats) -> Floats:
    """Mean over the years, then over 21 days; (years, days) → (days,)."""
    mean = values.mean(axis=0)
    padded = np.pad(mean, SMOOTH // 2, mode="edge")
    return np.convolve(padded, np.full(SMOOTH, 1.0 / SMOOTH), mode="valid")


def next_fall(values: Floats, level: float) -> Ints:
    """For each day of the axis the first from it on which `values` falls below `level`; (days + 1,).

    Past the axis where none is.
    """
    days = values.size
    falls = np.zeros(days + 1, dtype=bool)
    falls[1:days] = (values[1:] < level) & (values[:-1] >= level)
    following = np.where(falls, np.arange(days + 1), days)
    return np.asarray(np.minimum.accumulate(following[::-1])[::-1])


def standstill(growth: Development, here: Setting) -> Ints:
    """For each day of the axis the next on which growth falls to a quarter of its peak; (days + 1,).

    Past the axis where growth never stands still. Heat can be what stops it.
    """
    return here.once(("standstill", growth), lambda: _next_standstill(_usual_growth(growth, here)))


def winter_standstill(growth: Development, here: Setting) -> Ints:
    """The same of cold alone; past the axis where winters are so mild that it never comes."""
    return here.once(("winter standstill", growth), lambda: _winter_standstill(growth, here))


def _usual_growth(growth: Development, here: Setting) -> Floats:
    return smoothed(here.growth_clock(growth).rate)


def _next_standstill(usual: Floats) -> Ints:
    return next_fall(usual, STANDSTILL * float(usual.max()))


def _winter_standstill(growth: Development, here: Setting) -> Ints:
    """Days warmer than the mean of all count as full growth: what stops there stops for heat."""
    usual, mean = _usual_growth(growth, here), usual_mean(here)
    return _next_standstill(np.where(mean < mean.mean(), usual, usual.max()))


def growth_comes_back(growth: Development, here: Setting) -> Ints:
    """For each day of the axis the day from the next usually coldest one on which growth is a quarter of its
    peak again, that one itself where winters are so mild; (days + 1,)."""
    return here.once(("comes back", growth), lambda: _grows_again(growth, here))


def _grows_again(growth: Development, here: Setting) -> Ints:
    usual = _usual_growth(growth, here)
    grows = next_that((usual >= STANDSTILL * float(usual.max()))[None, :])[0]
    return np.asarray(grows[midwinter(here)])


def usual_mean(here: Setting) -> Floats:
    """21-day mean of the mean temperature over all years; (days,)."""
    return here.once("usual mean", lambda: smoothed(here.air.tmean))


def next_dark(here: Setting) -> Ints:
    """For each day of the axis the first from it with too little daylight to grow in; (days + 1,).

    Past the axis between the 34th parallels, where there is none.
    """
    return here.once("dark", lambda: next_frost(here.hours[None, :], DARK)[0])


def has_winter(here: Setting) -> bool:
    """Whether there is a time of year too cool for pods and fruits to fill, to be stood through."""
    return bool(usual_mean(here).min() < FRUITING)


def midwinter(here: Setting) -> Ints:
    """For each day of the axis the next that is usually the coldest of its year; (days + 1,)."""
    return here.once("midwinter", lambda: _next_coldest(usual_mean(here)))


def _next_coldest(usual: Floats) -> Ints:
    around = np.lib.stride_tricks.sliding_window_view(
        np.pad(usual, HALF_YEAR, constant_values=np.inf), 2 * HALF_YEAR + 1
    )
    coldest = usual <= around.min(axis=1)
    coldest[:HALF_YEAR] &= usual[:HALF_YEAR] <= usual[: 2 * HALF_YEAR].min()
    return np.asarray(next_that(coldest[None, :])[0])


def has_frosts(here: Setting) -> bool:
    """Whether winters are so cold that frost ends a season, not a night now and then."""
    return bool(usual_mean(here).min() < MILD)
