"""Missing days: counted, told, and filled by plain rules, or refused (docs/formats/daily-csv.md).

Only tmin, tmax and rain are filled; what else is missing stays missing and is estimated where needed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.base.language import later, tell, tell_n
from evenpick.base.unbroken import unbroken
from evenpick.climate.series import VARIABLES, DailySeries

NEEDED = ("tmin", "tmax", "rain")
HOLE = 40
"""days without a reading that nothing here fills: more than a tenth of a year would be invented"""
LONG_RECORD = 10 * 365.25
"""days with all three from which a year with a hole is left out rather than the record refused"""
WHOLE = later("Give a record without such a hole, or join one of a station near by.")


@dataclass(frozen=True, slots=True)
class Gap:
    """Consecutive days without one variable, from day number `first`."""

    variable: str
    first: int
    days: int

    @property
    def is_hole(self) -> bool:
        """Whether it is too long to be filled."""
        return self.days >= HOLE


def counted_days(days: int) -> str:
    """A number of days in words that agree, such as '1 day'."""
    return f"{days} day" if days == 1 else f"{days} days"


def fill_gaps(
    series: DailySeries, *, longest: int = 7, file: str | None = None
) -> tuple[DailySeries, tuple[str, ...]]:
    """The record with its gaps in tmin, tmax and rain filled, and what was done, counted.

    1. Days at either end without all three are cut off.
    2. Temperature: gaps up to `longest` days (at most 39) by a straight line between the days beside
       it, longer ones by the mean of the same calendar day over the record, 29 February
       counted as the 28th. Where a filled minimum then passes the maximum, the filled one gives way.
    3. Rain: the whole gap from the same days of the nearest year that has them all (the earlier of two
       as near), else day by day so; never nought for want of a reading.
    4. Gaps of 40 days or more ('holes') are not filled. In a record with under ten years of days they
       are refused; in a longer one they stay NaN, are told, and `usable_starts` says which stretches
       avoid them.

    A straight line over a week knows no weather, so filled days are smoother than real ones; means of
    few years less so. Raises BadWeatherFile (naming `file`) for a hole in a short record, for no day
    with all three, or for a calendar day measured in no other year; ValueError for `longest` outside
    0 to 39.
    """
    if not 0 <= longest < HOLE:
        raise ValueError(f"longest must be 0 to {HOLE - 1}, not {longest}")
    trimmed, notes = _trim(series, file)
    holes = [gap for variable in NEEDED for gap in _gaps(trimmed, variable) if gap.is_hole]
    if holes and _whole_days(trimmed).size < LONG_RECORD:
        raise BadWeatherFile([_hole_problem(gap, file) for gap in holes])
    filled = {name: getattr(trimmed, name).copy() for name in NEEDED}
    for name in ("tmin", "tmax"):
        notes += _fill_temperature(name, filled[name], trimmed, longest, file)
    notes += _keep_order(filled["tmin"], filled["tmax"], trimmed)
    notes += _fill_rain(filled["rain"], trimmed, file)
    notes += [
        f"{gap.variable}: no reading for {gap.days} days from {day_date(gap.first)}; "
        "weather years with these days are left out"
        for gap in holes
    ]
    return replace(trimmed, **filled), tuple(notes)


def usable_starts(series: DailySeries, starts: Ints, days: int) -> Bools:
    """Which stretches of `days` days from day numbers `starts` lie within the record and meet no hole.

    Shape as `starts`. A stretch that has even one day of a hole (40 days or more without tmin, tmax or
    rain) is not usable, so before and after `fill_gaps` (but for the ends it cuts) the answer is the
    same, and after it a usable stretch has all three on every day.
    """
    bad = np.zeros(series.days + 1, dtype=np.int64)
    for gap in (gap for variable in NEEDED for gap in _gaps(series, variable) if gap.is_hole):
        bad[gap.first - series.start + 1 : gap.first - series.start + gap.days + 1] = 1
    before = np.cumsum(bad)
    first = np.asarray(starts, dtype=np.int64) - series.start
    inside = (first >= 0) & (first + days <= series.days)
    first = np.where(inside, first, 0)
    met = before[np.minimum(first + days, series.days)] - before[first]
    usable: Bools = inside & (met == 0)
    return usable


def _gaps(series: DailySeries, variable: str) -> list[Gap]:
    missing = unbroken(np.isnan(getattr(series, variable)))
    return [Gap(variable, series.start + first, last - first + 1) for first, last in missing]


def _whole_days(series: DailySeries) -> Ints:
    return np.flatnonzero(~np.isnan(series.tmin + series.tmax + series.rain))


def _trim(series: DailySeries, file: str | None) -> tuple[DailySeries, list[str]]:
    whole = _whole_days(series)
    if whole.size == 0:
        never = [name for name in NEEDED if series.missing(name) == series.days]
        what = tell("there is no {never} in it.",
                    never=tell(" and no ").join(never)) if never else tell("no day has tmin, tmax and rain.")
        raise BadWeatherFile(Problem(what, tell("Choose a record that has tmin, tmax and rain."), file))
    first, last = int(whole[0]), int(whole[-1]) + 1
    cut = series.days - (last - first)
    if not cut:
        return series, []
    columns = {name: getattr(series, name)[first:last] for name in VARIABLES}
    note = f"{counted_days(cut)} without tmin, tmax and rain cut off at the ends of the record"
    return replace(series, start=series.start + first, **columns), [note]


def _hole_problem(gap: Gap, file: str | None) -> Problem:
    what = tell_n("{variable} has no reading for {n} day from {first}.",
                  "{variable} has no reading for {n} days from {first}.", gap.days, variable=gap.variable,
                  first=day_date(gap.first))
    return Problem(what, tell(WHOLE), file, field=gap.variable)


def _calendar_days(series: DailySeries) -> Ints:
    """Month × 100 + day of each day, 29 February as 28 February; shape (days,)."""
    days = np.datetime64(series.start, "D") + np.arange(series.days)
    month = days.astype("datetime64[M]")
    key: Ints = (month.astype(np.int64) % 12 + 1) * 100 + (days - month).astype(np.int64) + 1
    return np.where(key == 229, 228, key)


def _fill_temperature(
    name: str, values: Floats, series: DailySeries, longest: int, file: str | None
) -> list[str]:
    measured, keys = getattr(series, name), _calendar_days(series)
    known = np.flatnonzero(~np.isnan(measured))
    counts = {"interpolated": 0, "given the mean of their calendar day": 0}
    for gap in (gap for gap in _gaps(series, name) if not gap.is_hole):
        days = np.arange(gap.first, gap.first + gap.days) - series.start
        if gap.days <= longest:
            values[days] = np.interp(days, known, measured[known])
            counts["interpolated"] += gap.days
        else:
            values[days] = [_calendar_mean(measured, keys, int(day), gap, file) for day in days]
            counts["given the mean of their calendar day"] += gap.days
    return [f"{name}: {counted_days(count)} {how}" for how, count in counts.items() if count]


def _calendar_mean(measured: Floats, keys: Ints, day: int, gap: Gap, file: str | None) -> float:
    same = measured[keys == keys[day]]
    if np.isnan(same).all():
        raise BadWeatherFile(_no_other_year(gap, file))
    return float(np.nanmean(same))


def _no_other_year(gap: Gap, file: str | None) -> Problem:
    what = (
        tell_n("{variable} has no reading for {n} day from {first}, and that day of the year is in no other "
               "year of the record.",
               "{variable} has no reading for {n} days from {first}, and some of these days of the year "
               "are in no other year of the record.", gap.days, variable=gap.variable,
               first=day_date(gap.first))
    )
    return Problem(what, tell("Give a longer record, or join one of a station near by."), file,
                   field=gap.variable)


def _keep_order(tmin: Floats, tmax: Floats, series: DailySeries) -> list[str]:
    """Lets the filled temperature give way where the minimum passes the maximum; changes both in place."""
    wrong = (tmin > tmax) & np.isnan(series.tmin + series.tmax)
    low, high = np.minimum(tmin, tmax)[wrong], np.maximum(tmin, tmax)[wrong]
    measured_min, measured_max = ~np.isnan(series.tmin[wrong]), ~np.isnan(series.tmax[wrong])
    tmin[wrong] = np.where(measured_min, high, low)
    tmax[wrong] = np.where(measured_max, low, high)
    count = int(wrong.sum())
    return [f"{counted_days(count)} whose filled temperature was moved to the measured one"] if count else []


def _fill_rain(values: Floats, series: DailySeries, file: str | None) -> list[str]:
    total = 0
    years: set[int] = set()
    for gap in (gap for gap in _gaps(series, "rain") if not gap.is_hole):
        first = gap.first - series.start
        donors, lent = _lent_rain(series, gap, file)
        values[first : first + gap.days] = lent
        total, years = total + gap.days, years | donors
    if not total:
        return []
    span = f"the nearest years with readings, {min(years)} to {max(years)}"
    lenders = span if len(years) > 1 else f"{min(years)}"
    return [f"rain: {counted_days(total)} taken from the same days of {lenders}"]


def _lent_rain(series: DailySeries, gap: Gap, file: str | None) -> tuple[set[int], list[float]]:
    for year in _nearest_years(series, gap.first):
        rain = [_rain_of(series, year, gap.first, step) for step in range(gap.days)]
        if not np.isnan(rain).any():
            return {year}, rain
    picked = [_nearest_rain(series, gap, step, file) for step in range(gap.days)]
    return {year for year, _ in picked}, [amount for _, amount in picked]


def _nearest_rain(series: DailySeries, gap: Gap, step: int, file: str | None) -> tuple[int, float]:
    for year in _nearest_years(series, gap.first):
        amount = _rain_of(series, year, gap.first, step)
        if not np.isnan(amount):
            return year, amount
    raise BadWeatherFile(_no_other_year(gap, file))


def _nearest_years(series: DailySeries, day: int) -> list[int]:
    own = day_date(day).year
    years = range(day_date(series.start).year - 1, day_date(series.start + series.days - 1).year + 2)
    return sorted((year for year in years if year != own), key=lambda year: (abs(year - own), year))


def _rain_of(series: DailySeries, year: int, first: int, step: int) -> float:
    """Rain `step` days after the calendar day of `first` in another year; NaN outside the record."""
    when = day_date(first)
    leap_safe = min(when.day, 28) if when.month == 2 else when.day
    index = day_number(date(year, when.month, leap_safe)) + step - series.start
    return float(series.rain[index]) if 0 <= index < series.days else float("nan")
