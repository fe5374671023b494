"""How far a day's temperature strays from the season's: amplitudes for the weather generator.

Normals give, at best, the standard deviation of daily means within a month, that of the month's mean
between years, and how far the month's lowest minimum lies below its mean; where they do not, regressions on
the normals themselves stand in. They become amplitudes of a fast part, a slow part and a part that lasts the
year, for minima and maxima each (docs/design/weather.md, rules G4 to G7).
Coefficients: builders/variability.py prints them and their error on stations left out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals

FAST = 0.70
"""day-to-day memory of the fast part"""
SLOW = float(np.exp(-1 / 30))
"""the slow part has a time constant of 30 days"""
WET_MEMORY = 0.25
MONTH, YEAR = 30, 365
ANNUAL_SHARE = 0.41
"""sd between years of the annual mean over that of a month's mean"""
LEAST_YEAR_SD = 0.2  # °C
LN_DAILY_SD = np.array([-0.4098, 0.0120, -0.0391, -0.0096, 0.0392, 0.2541, 0.0258, 0.1587])
LN_BETWEEN_SD = np.array([-0.8742, 0.0138, -0.0103, -0.0140, 0.0246, -0.1295, -0.0010, 0.1669])
LN_DROP = np.array([0.8411, -0.1263, -0.0460])
TIE = np.array([1.0584, 0.3330, -0.1535])
DROP_IN_SDS = 1.95
"""how far the lowest of a month's made minima lies below their mean, in their standard deviations"""
MIN_OVER_MEAN = (0.4, 1.7)
"""of the standard deviation of minima over that of daily means: beyond, no maxima could make up the means"""
TIES = (0.1, 0.95)


@dataclass(frozen=True, slots=True)
class Amplitudes:
    """Standard deviations in °C of the parts of temperature, shape (12,) each; `year` is one number."""

    fast_min: Floats
    fast_max: Floats
    shared: Floats
    """correlation of the fast parts of minimum and maximum; the slow part is one and the same"""
    slow_min: Floats
    slow_max: Floats
    year: float


def spread_terms(normals: MonthlyNormals) -> Floats:
    """Predictors of the daily and the between-year standard deviation; shape (12, 8)."""
    annual, season = _seasons(normals)
    day_range, turning = normals.tmax - normals.tmin, np.abs(_change(_mean(normals)))
    columns = (1.0, annual, season, season * annual, day_range, _wet(normals), turning, abs(normals.lat) / 10)
    return np.stack([np.broadcast_to(column, 12) for column in columns], axis=1)


def drop_terms(normals: MonthlyNormals) -> Floats:
    """Predictors of ln(drop to the month's lowest minimum / sd of daily means); shape (12, 3)."""
    return np.stack([np.ones(12), np.log(daily_sd(normals)), _seasons(normals)[1]], axis=1)


def tie_terms(normals: MonthlyNormals, drop: Floats) -> Floats:
    """Predictors of the correlation of a day's minimum and maximum within a month; drop (12,); (12, 3)."""
    spread = daily_sd(normals)
    return np.stack([np.ones(12), np.log(spread / _range(normals)), np.log(drop / spread)], axis=1)


def daily_sd(normals: MonthlyNormals) -> Floats:
    """Standard deviation of daily mean temperature within each month, °C (12,).

    The normals' own; else by regression (rms error of its logarithm on stations left out 0.37).
    """
    if normals.sd_daily_tmean is not None:
        return normals.sd_daily_tmean
    return np.asarray(np.clip(np.exp(spread_terms(normals) @ LN_DAILY_SD), 0.4, 9.0))


def between_sd(normals: MonthlyNormals) -> Floats:
    """Standard deviation between years of each month's mean temperature, °C (12,).

    The normals' own; else by regression (rms error of its logarithm on stations left out 0.33).
    """
    if normals.interannual_sd_tmean is not None:
        return normals.interannual_sd_tmean
    return np.asarray(np.clip(np.exp(spread_terms(normals) @ LN_BETWEEN_SD), 0.2, 5.0))


def min_drop(normals: MonthlyNormals, coefficients: Floats = LN_DROP) -> Floats:
    """How far a month's lowest minimum lies below its mean one, K (12,).

    The normals' own; else by regression. Bounded so that some spread of maxima can go with it.
    """
    spread, drop = daily_sd(normals), normals.drop_to_lowest
    if drop is None:
        drop = spread * np.exp(drop_terms(normals) @ coefficients)
    least, most = (bound * DROP_IN_SDS for bound in MIN_OVER_MEAN)
    return np.asarray(np.clip(drop, least * spread, most * spread))


def day_spreads(
    normals: MonthlyNormals, tie: Floats = TIE, drop: Floats = LN_DROP
) -> tuple[Floats, Floats, Floats]:
    """(sd of minima, sd of maxima, their correlation) within each month, °C, °C, 1; (12,) each.

    Minima as far apart as the month's lowest says; maxima such that with them, so tied, the daily means have
    their own standard deviation.
    """
    lowest = min_drop(normals, drop)
    low, tied = lowest / DROP_IN_SDS, np.clip(tie_terms(normals, lowest) @ tie, *TIES)
    rest = 4 * daily_sd(normals) ** 2 - (1 - tied**2) * low**2
    return low, np.asarray(np.sqrt(rest) - tied * low), np.asarray(tied)


def amplitudes(normals: MonthlyNormals, wet: Floats, shift_min: Floats, shift_max: Floats) -> Amplitudes:
    """What the generator needs so that its months stray as the normals say.

    wet: share of wet days; shifts: °C of a wet day over a dry one's, shape (12,) each. What wet days and
    the season's own drift explain is taken off first. At most half of what a month holds is slow.
    """
    rainy = wet * (1.0 - wet)
    v_min, v_max, cov = _within(normals, rainy, shift_min, shift_max)
    mean = (v_min + v_max + 2 * cov) / 4
    wet_mean = ((shift_min + shift_max) / 2) ** 2 * rainy
    between = between_sd(normals) ** 2 - mean_share(WET_MEMORY, MONTH) * wet_mean
    year = _year_variance(mean, between, between_sd(normals))
    a, b = mean_share(FAST, MONTH), mean_share(SLOW, MONTH)
    slow = np.clip(((1 - a) * (between - year) - a * mean) / (b - a), 0.0, 0.5 * mean / (1 - b))
    k_min, k_max = np.sqrt(v_min), np.sqrt(v_max)
    size = slow / ((k_min + k_max) / 2) ** 2
    kept = 1 - (1 - b) * size
    fast_min, fast_max = v_min * kept / (1 - a), v_max * kept / (1 - a)
    shared = (cov - (1 - b) * size * k_min * k_max) / (1 - a) / np.sqrt(fast_min * fast_max)
    return Amplitudes(
        np.sqrt(fast_min), np.sqrt(fast_max), np.clip(shared, 0.0, 1.0),
        np.sqrt(size) * k_min, np.sqrt(size) * k_max, float(np.sqrt(year)),
    )


def mean_share(memory: float, days: int) -> float:
    """Variance of the mean of `days` days over that of a day, for a first-order autoregression."""
    lags = np.arange(1, days)
    return float((1 + 2 * np.sum((1 - lags / days) * memory**lags)) / days)


def _within(
    normals: MonthlyNormals, rainy: Floats, shift_min: Floats, shift_max: Floats
) -> tuple[Floats, Floats, Floats]:
    """Variance of minimum, of maximum, and covariance within a month, beside season and wet days (12,)."""
    low, high, _ = day_spreads(normals)
    fresh = (1 - mean_share(WET_MEMORY, MONTH)) * rainy

    def rest(variance: Floats, monthly: Floats, shift: Floats) -> Floats:
        explained = _change(monthly) ** 2 / 12 + fresh * shift**2
        return np.asarray(np.maximum(variance * (MONTH - 1) / MONTH - explained, 0.25 * variance))

    v_min, v_max = rest(low**2, normals.tmin, shift_min), rest(high**2, normals.tmax, shift_max)
    mean = rest(daily_sd(normals) ** 2, _mean(normals), (shift_min + shift_max) / 2)
    root = np.sqrt(v_min * v_max)
    correlation = np.clip((2 * mean - (v_min + v_max) / 2) / root, *TIES)
    size = mean / ((v_min + v_max + 2 * correlation * root) / 4)
    return v_min * size, v_max * size, correlation * root * size


def _year_variance(mean: Floats, between: Floats, months: Floats) -> float:
    """Variance of the part that lasts the year, from the three sums that fast, slow and year make together.

    Within a month, between years in a month, and in the annual mean, each on average over the months.
    """
    a, b = mean_share(FAST, MONTH), mean_share(SLOW, MONTH)
    sums = np.array([
        [1 - a, 1 - b, 0.0],
        [a, b, 1.0],
        [mean_share(FAST, YEAR), mean_share(SLOW, YEAR), 1.0],
    ])
    wanted = np.array([mean.mean(), between.mean(), (ANNUAL_SHARE * months.mean()) ** 2])
    year = float(np.linalg.solve(sums, wanted)[2])
    return float(np.clip(year, LEAST_YEAR_SD**2, max(0.8 * float(between.min()), LEAST_YEAR_SD**2)))


def _seasons(normals: MonthlyNormals) -> tuple[float, Floats]:
    """(annual range, how far a month is into the warm (+1) or cold (−1) season); none where nearly flat."""
    mean = _mean(normals)
    annual = float(mean.max() - mean.min())
    return annual, (mean - mean.mean()) / (annual / 2) if annual > 1.0 else np.zeros(12)


def _mean(normals: MonthlyNormals) -> Floats:
    return np.asarray((normals.tmin + normals.tmax) / 2)


def _range(normals: MonthlyNormals) -> Floats:
    return np.asarray(np.maximum(normals.tmax - normals.tmin, 0.5))


def _wet(normals: MonthlyNormals) -> Floats:
    return np.asarray(np.minimum(normals.wet_days / DAYS_IN_MONTH, 1.0))


def _change(monthly: Floats) -> Floats:
    """Change per month at each month's middle, over the neighbours."""
    return np.asarray((np.roll(monthly, -1) - np.roll(monthly, 1)) / 2)
