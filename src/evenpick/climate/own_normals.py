"""Twelve normals from a daily record that is too short to be an ensemble itself."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date, months
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.series import DailySeries, Origin
from evenpick.climate.site import Site

WET = 1.0  # mm
FEWEST_DAYS = 20  # of a month, for it to count
FEWEST_YEARS = 5  # for a spread between years


def record_normals(series: DailySeries, origin: Origin, site: Site) -> MonthlyNormals:
    """What a station's report would say of a record without gaps in tmin, tmax and rain.

    Few years make normals off by chance: about the between-year sd over √years, 0.5 °C and a fifth of the
    rain for ten years at 53° N. Raises BadWeatherFile where some month is not there at all.
    """
    number = months(series.start, series.days)
    year = np.array([day_date(series.start + day).year for day in range(series.days)])
    absent = [month for month in range(1, 13) if (number == month).sum() < FEWEST_DAYS]
    if absent:
        raise BadWeatherFile(
            Problem(
                f"the record has hardly a day of month {absent[0]}.", "Give at least one whole year.",
                file=origin.file,
            )
        )

    def mean_of(values: Floats) -> Floats:
        return np.array([values[number == month].mean() for month in range(1, 13)])

    mean = (series.tmin + series.tmax) / 2
    sunshine = mean_of(series.sunshine) * DAYS_IN_MONTH
    within, between = _spread(mean, number, year)
    return MonthlyNormals(
        origin.station or origin.file, site.lat, site.lon, site.height_m, mean_of(series.tmin),
        mean_of(series.tmax), mean_of(series.rain) * DAYS_IN_MONTH,
        mean_of((series.rain >= WET).astype(np.float64)) * DAYS_IN_MONTH, sd_daily_tmean=within,
        sunshine_h=None if np.isnan(sunshine).any() else sunshine, interannual_sd_tmean=between,
        years=int(np.unique(year).size), licence=origin.licence or "",
    )


def _spread(mean: Floats, number: Ints, year: Ints) -> tuple[Floats, Floats | None]:
    """Day-to-day sd within months, and the sd of monthly means between years where there are enough."""
    within, between = [], []
    for month in range(1, 13):
        pieces = [mean[_of(number, year, month, y)] for y in np.unique(year)]
        whole = [piece for piece in pieces if piece.size >= FEWEST_DAYS]
        within.append(np.sqrt(np.mean([piece.var(ddof=1) for piece in whole])))
        between.append(np.std([piece.mean() for piece in whole], ddof=1) if len(whole) > 1 else np.nan)
    enough = np.unique(year).size >= FEWEST_YEARS and not np.isnan(between).any()
    return np.array(within), np.array(between) if enough else None


def _of(number: Ints, year: Ints, month: int, which: int) -> Bools:
    return np.asarray((number == month) & (year == which))
