"""Radiation for the days on which a record has none (docs/design/weather.md, rule M4)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.days import days_of_year
from evenpick.base.language import tell
from evenpick.climate.daylight import radiation_from_range, radiation_from_sunshine
from evenpick.climate.series import DailySeries

KRS = 0.165


def fill_radiation(series: DailySeries, lat: float) -> tuple[DailySeries, tuple[str, ...]]:
    """The series with radiation on every day that has the means for it, and what was done, in words.

    Measured days stay; then sunshine (allen1998 equation 35), then the range of temperature (equation 50
    with kRs 0.165, between 0.16 inland and 0.19 on the coast). lat in degrees. Equation 50 errs by about
    3 MJ m⁻² d⁻¹ on a day. A day without temperatures keeps NaN.
    """
    lacking = np.flatnonzero(np.isnan(series.radiation))
    when = days_of_year(series.start, series.days)[lacking]
    sunny = radiation_from_sunshine(series.sunshine[lacking], lat, when)
    ranged = radiation_from_range(series.tmin[lacking], series.tmax[lacking], lat, when, KRS)
    by_sun = ~np.isnan(sunny)
    by_range = ~by_sun & ~np.isnan(ranged)
    radiation = series.radiation.copy()
    radiation[lacking] = np.where(by_sun, sunny, ranged)
    notes = (*_told(by_sun, series.days, tell("hours of sunshine")),
             *_told(by_range, series.days, tell("the range of temperature")))
    return replace(series, radiation=radiation), notes


def _told(filled: Bools, days: int, source: str) -> tuple[str, ...]:
    count = int(filled.sum())
    if not count:
        return ()
    part = tell("{n} of {all} days", n=count, all=days)
    said = tell("all days") if count == days else part
    return (tell("Radiation of {days} was estimated from {source}.", days=said, source=source),)
