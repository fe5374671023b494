"""Thermal time is solved, not typed (growth D4): an anchor pushed through the model of its own climate."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenpick.base.days import day_date
from evenpick.base.errors import BadRequest, Problem
from evenpick.crops.crop import Anchor, Crop
from evenpick.outlook.grow import bench_for
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import planted_out, ripe, start

PRIOR_SD = 0.19  # of ln(thermal time): holds anchors left out (authorities/bands.md)
PRIOR_WEIGHT = 4.0  # observations that it counts as (growth L1; memory)
STEPS = 40
LARGEST = 20_000.0  # EDD: more than any crop gathers in the longest axis


def together(solved: Sequence[float]) -> tuple[float, float]:
    """One thermal time from several anchors', and the sd of its logarithm.

    The geometric mean; the sd is that of a garden's own thermal time about it: what the anchors differ by,
    pooled with a prior of four observations, and what their mean itself may be off by, which is less the more
    there are. So one anchor gives 0.27, and anchors that disagree widen the band instead of being averaged
    away.
    """
    logs = np.log(np.asarray(solved, dtype=np.float64))
    apart = float(((logs - logs.mean()) ** 2).sum())
    variance = (PRIOR_WEIGHT * PRIOR_SD**2 + apart) / (PRIOR_WEIGHT + logs.size - 1)
    return float(np.exp(logs.mean())), float(np.sqrt(variance * (1 + 1 / logs.size)))


def solve_thermal_time(crop: Crop, anchor: Anchor, settings: Settings) -> float:
    """The thermal time (EDD) with which the median year takes the anchor's days to first picking.

    Bisection: the days to picking never fall as the thermal time grows. Days are whole, so the middle
    of the thermal times that give this number of days is taken. Raises BadRequest where no
    thermal time gives so few days, or so many.
    """
    sow = anchor_day(anchor, settings.weather.start)
    if median_days(crop, anchor, settings, sow, 0.0) > anchor.days:
        raise BadRequest(
            Problem(
                f"{crop.name} sown at {anchor.place} on {anchor.month:02d}-{anchor.day:02d} can't be picked "
                f"after {anchor.days:g} days: cold or day length alone takes longer.",
                "Check the anchor's date and days.",
            )
        )
    return (_least(crop, anchor, settings, sow, 0.0) + _least(crop, anchor, settings, sow, 1.0)) / 2


def _least(crop: Crop, anchor: Anchor, settings: Settings, sow: int, later: float) -> float:
    """The least thermal time that takes at least the anchor's days and `later` more."""
    low, high = 0.0, LARGEST
    for _ in range(STEPS):
        middle = (low + high) / 2
        if median_days(crop, anchor, settings, sow, middle) >= anchor.days + later:
            high = middle
        else:
            low = middle
    return high


def median_days(crop: Crop, anchor: Anchor, settings: Settings, sow: int, thermal_time: float) -> float:
    """Median over the years of days from sowing, or planting out, to first picking, lost or not."""
    way, here = crop.way(anchor.way), settings.cover(anchor.cover)
    days = np.full((here.years, 1), sow, dtype=np.int64)
    if anchor.counted == "planting out":
        begun = planted_out(way, days)
    else:
        begun = start(crop, way, here, bench_for(way, settings), days)
    first = ripe(crop, here, begun, np.full((here.years, 1), thermal_time))
    return float(np.median(first - days))


def anchor_day(anchor: Anchor, axis_start: int) -> int:
    """Axis index of the anchor's sow day in the first year that holds it whole."""
    opening = day_date(axis_start)
    when = opening.replace(month=anchor.month, day=anchor.day)
    if when < opening:
        when = when.replace(year=when.year + 1)
    return (when - opening).days
