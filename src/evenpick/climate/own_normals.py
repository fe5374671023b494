"""Twelve normals from a daily record that is too short to be an ensemble itself."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import months, years
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.base.language import tell
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.series import DailySeries, Origin
from evenpick.climate.site import Site

WET = 1.0  # mm
FEWEST_DAYS = 20  # of a month, for it to count
FEWEST_YEARS = 5  # for a spread between years


@dataclass(frozen=True, slots=True)
class Days:
    """Days in any order, each with its month (1 to 12) and year; every array has shape (days,).

    Only sunshine may be missing (NaN)."""

    tmin: Floats
    tmax: Floats
    rain: Floats
    sunshine: Floats
    month: Ints
    year: Ints


def record_normals(series: DailySeries, origin: Origin, site: Site) -> MonthlyNormals:
    """What a station's report would say of a record, over the days that have tmin, tmax and rain.

    Few years make normals off by chance: ten years of Dublin Airport stray from the forty-four by 0.3 °C
    (rms of a month's mean) and 14 % of a month's rain. Raises BadWeatherFile where some month is hardly
    there at all.
    """
    whole = ~(np.isnan(series.tmin) | np.isnan(series.tmax) | np.isnan(series.rain))
    month, year = (part(series.start, series.days)[whole] for part in (months, years))
    absent = [one for one in range(1, 13) if (month == one).sum() < FEWEST_DAYS]
    if absent:
        raise BadWeatherFile(
            Problem(
                tell("the record has hardly a day of month {absent}.",
                     absent=absent[0]), tell("Give at least one whole year."),
                file=origin.file,
            )
        )
    days = Days(
        series.tmin[whole], series.tmax[whole], series.rain[whole], series.sunshine[whole], month, year
    )
    found = normals_of(days, origin.station or origin.file, site)
    return replace(found, licence=origin.licence or "")


def normals_of(days: Days, name: str, site: Site) -> MonthlyNormals:
    """Twelve normals of days; every month is there."""

    def mean_of(values: Floats) -> Floats:
        return np.array([values[days.month == month].mean() for month in range(1, 13)])

    sunshine = mean_of(days.sunshine) * DAYS_IN_MONTH
    within, between, drop = _spread(days)
    return MonthlyNormals(
        name, site.lat, site.lon, site.height_m, mean_of(days.tmin), mean_of(days.tmax),
        mean_of(days.rain) * DAYS_IN_MONTH,
        mean_of((days.rain >= WET).astype(np.float64)) * DAYS_IN_MONTH, sd_daily_tmean=within,
        sunshine_h=None if np.isnan(sunshine).any() else sunshine, interannual_sd_tmean=between,
        drop_to_lowest=drop, years=int(np.unique(days.year).size),
    )


def _spread(days: Days) -> tuple[Floats, Floats | None, Floats]:
    """Day-to-day sd within months, the sd of monthly means between years where there are enough, and how far
    a month's lowest minimum lies below its mean one; (12,) each."""
    mean, number = (days.tmin + days.tmax) / 2, np.unique(days.year)
    within, between, drop = [], [], []
    for month in range(1, 13):
        chosen = [(days.month == month) & (days.year == year) for year in number]
        kept = [one for one in chosen if one.sum() >= FEWEST_DAYS]
        whole = [mean[one] for one in kept]
        drop.append(np.mean([days.tmin[one].mean() - days.tmin[one].min() for one in kept]))
        within.append(np.sqrt(np.mean([piece.var(ddof=1) for piece in whole])))
        between.append(np.std([piece.mean() for piece in whole], ddof=1) if len(whole) > 1 else np.nan)
    enough = number.size >= FEWEST_YEARS and not np.isnan(between).any()
    return np.array(within), np.array(between) if enough else None, np.array(drop)
