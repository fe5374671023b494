"""Old years brought to the warmth of today (docs/design/weather.md, rules T1 to T5)."""

from __future__ import annotations

from datetime import date
from statistics import NormalDist

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import EPOCH, day_date, day_number
from evenpick.base.language import tell, tell_n
from evenpick.climate.series import DailySeries

LEAST_YEARS = 20
CONFIDENCE = 0.90
DAYS_A_YEAR = 365.25


def remove_trend(series: DailySeries, present_year: int) -> tuple[DailySeries, tuple[str, ...]]:
    """The record with every year at the warmth of the present, and what was done, in words.

    The trend is the median of the slopes between all pairs of annual mean temperatures (theil1950,
    sen1968), complete calendar years only. It is taken out, from minimum and maximum alike, where at
    least 20 complete years are there and a rank test (mann1945, kendall1975) finds it at 90 %. Each
    day moves by slope × (level year's middle − the day); the level year is `present_year`, or the
    record's first or last complete year where that lies outside: nothing is extrapolated.
    Not done: a trend of its own for each season, for minimum and maximum, or in rain.
    """
    years, means = annual_means(series)
    if years.size < LEAST_YEARS:
        return series, (
            tell_n("No trend in temperature was sought: {n} complete year, fewer than {least}.",
                   "No trend in temperature was sought: {n} complete years, fewer than {least}.",
                   years.size, least=LEAST_YEARS),
        )
    slope = median_slope(years, means)
    sure = rank_confidence(means)
    words = tell("{slope:+.2f} °C per decade over {first} to {last}",
                 slope=slope * 10, first=str(int(years[0])), last=str(int(years[-1])))
    if sure < CONFIDENCE:
        return series, (tell("No trend in temperature was removed: {words} could be chance.", words=words),)
    level = int(np.clip(present_year, years[0], years[-1]))
    middle = (day_number(date(level, 7, 2)) - series.start) / DAYS_A_YEAR
    shift = slope * (middle - np.arange(series.days) / DAYS_A_YEAR)
    note = tell("Temperature: the trend of {words} was removed; every year stands at the level of {level}.",
                words=words, level=str(level))
    return series.with_warmth(series.tmin + shift, series.tmax + shift), (note,)


def found_trend(series: DailySeries) -> float | None:
    """The trend that `remove_trend` takes out, °C a decade; None if not sought or by chance."""
    years, means = annual_means(series)
    if years.size < LEAST_YEARS or rank_confidence(means) < CONFIDENCE:
        return None
    return 10 * median_slope(years, means)


def annual_means(series: DailySeries) -> tuple[Floats, Floats]:
    """(years, mean of (tmin + tmax)/2 in °C) of the calendar years without a missing temperature."""
    mean = (series.tmin + series.tmax) / 2
    first, last = day_date(series.start).year, day_date(series.start + series.days - 1).year
    found = []
    for year in range(first, last + 1):
        begin = (date(year, 1, 1) - EPOCH).days - series.start
        end = (date(year + 1, 1, 1) - EPOCH).days - series.start
        if begin >= 0 and end <= series.days and not np.isnan(mean[begin:end]).any():
            found.append((float(year), float(mean[begin:end].mean())))
    return np.array([year for year, _ in found]), np.array([value for _, value in found])


def median_slope(x: Floats, y: Floats) -> float:
    """Median of the slopes between all pairs of points (sen1968); x distinct, at least two."""
    first, second = np.triu_indices(x.size, 1)
    return float(np.median((y[second] - y[first]) / (x[second] - x[first])))


def rank_confidence(y: Floats) -> float:
    """1 − p of the two-sided Mann-Kendall test, by the normal approximation; ties not corrected."""
    n = y.size
    first, second = np.triu_indices(n, 1)
    score = float(np.sign(y[second] - y[first]).sum())
    spread = np.sqrt(n * (n - 1) * (2 * n + 5) / 18)
    return 2 * NormalDist().cdf(max(abs(score) - 1, 0.0) / spread) - 1
