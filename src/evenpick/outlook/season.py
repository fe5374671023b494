"""Crops for a season: ready before growth stands still, yet not past their best by then (growth H6)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.crop import Development
from evenpick.crops.hazards import next_frost
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.setting import Setting

STANDSTILL = 0.25  # of the peak of growth; why not growth.md's 0.16: docs/design/outlook.md, O9
FRUITING = 11.5  # °C, 21-day mean below which pods and fruits no longer fill (memory; O10)
COOL = 14.5  # °C, 21-day mean
SMOOTH = 21  # days


def smoothed(values: Floats) -> Floats:
    """Mean over the years, then over 21 days; (years, days) → (days,)."""
    mean = values.mean(axis=0)
    padded = np.pad(mean, SMOOTH // 2, mode="edge")
    return np.convolve(padded, np.full(SMOOTH, 1.0 / SMOOTH), mode="valid")


def next_fall(values: Floats, level: float) -> Ints:
    """For each day the first later day on which `values` falls below `level`; past the axis if none."""
    days = values.size
    falls = np.zeros(days, dtype=bool)
    falls[1:] = (values[1:] < level) & (values[:-1] >= level)
    following = np.where(falls, np.arange(days), days)
    return np.asarray(np.minimum.accumulate(following[::-1])[::-1])


def standstill(growth: Development, here: Setting) -> Ints:
    """For each day of the axis the next on which growth falls to a standstill; (days + 1,)."""
    return here.once(("standstill", growth), lambda: _standstill(here.growth_clock(growth).rate))


def _standstill(rate: Floats) -> Ints:
    growth = smoothed(rate)
    following = next_fall(growth, STANDSTILL * float(growth.max()))
    return np.append(following, growth.size)


def fruiting_ends(here: Setting) -> Ints:
    """For each day of the axis the first from it too cool for pods and fruits to fill; (days + 1,)."""
    return here.once("fruiting", lambda: next_frost(smoothed(here.air.tmean)[None, :], FRUITING)[0])


def in_season(outcome: Outcome, here: Setting) -> Bools:
    """Ready in time: before growth stands still, and a crop for a season not long before it; (years, n).

    What waits for cold or for long days has its own time.
    """
    crop, first = outcome.crop, outcome.first.astype(np.int64)
    if crop.cold_heading is not None or crop.bulbing is not None:
        return np.ones(first.shape, dtype=bool)
    timely = first <= standstill(crop.development, here)[outcome.sow]
    if crop.season is None:
        return np.asarray(timely)
    cool = next_fall(smoothed(here.air.tmean), COOL)[outcome.sow]
    # where it is never so warm, or never so cool, nothing is past its best before the winter
    earliest = np.where(cool < outcome.never, cool - crop.season.early_days, 0)
    return np.asarray(timely & (first >= earliest))
