"""Records that read well and are no weather: codes, running totals, dry days left empty, a stuck sensor.

Each would pass day by day; only the record as a whole tells it. All limits are our own choice.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.base.language import tell, tell_n
from evenpick.base.unbroken import unbroken
from evenpick.climate.readers.text import Faults
from evenpick.climate.seasonal import half_a_year_out
from evenpick.climate.series import DailySeries

RUNNING = 10
"""rises of the rain from day to day from which a running total shows"""
FALLS = 0.25
"""of its rises: rain falls back about as often as it rises, a total only where the gauge is emptied"""
WET_ONLY = 15
"""readings of rain, all above nought, from which dry days look left empty"""
LEFT_EMPTY = 0.25
"""days without rain for each with it, the same"""
STANDS = 30
"""days running with the same minimum and the same maximum"""
SEASON = 60
"""days of either half of the year from which they are held against each other"""
CODED_FROM = 999.0
"""mm: the most rain, if it is all nines, is a code from here on; below, from 99 on, where it stands thrice"""
CODED_TIMES = 3


def check(series: DailySeries, faults: Faults) -> None:
    """Raises BadWeatherFile, after what else was found, where the record as a whole can't be weather."""
    for what, mend, field in _doubts(series):
        faults.add(what, mend, field=field)
    faults.raise_any()


def check_season(series: DailySeries, lat: float, file: str | None) -> None:
    """Raises BadWeatherFile where summer is in the wrong half of the year for the latitude."""
    days = np.datetime64(series.start, "D") + np.arange(series.days)
    months = days.astype("datetime64[M]").astype(np.int64) % 12
    june, december = (series.tmax[np.isin(months, part)] for part in ((5, 6, 7), (11, 0, 1)))
    june, december = june[~np.isnan(june)], december[~np.isnan(december)]
    if min(june.size, december.size) < SEASON:
        return
    wrong = half_a_year_out(lat, float(june.mean()), float(december.mean()))
    if wrong:
        mend = tell("Give a record of this place, or write the latitude with a minus if it is south.")
        raise BadWeatherFile(Problem(wrong, mend, file))


def _doubts(series: DailySeries) -> Iterator[tuple[str, str, str]]:
    rain = series.rain
    known = ~np.isnan(rain)
    coded = _coded(rain[known])
    if coded is not None:
        days = np.flatnonzero(rain == coded)
        yield tell_n("{coded:g} mm of rain on {n} day, {first}, looks like a code for no reading.",
                     "{coded:g} mm of rain on {n} days, the first {first}, looks like a code for no reading.",
                     days.size, coded=coded, first=_on(series, int(days[0]))), tell(
                         "Leave those cells empty."), "rain"
    elif _runs_up(rain):
        yield (tell("the rain only ever rises from day to day; that looks like a running total."),
               tell("Give each day the rain that fell on it."), "rain")
    if _wet_only(known, rain):
        share = float((~known).mean())
        yield (tell("no day has 0 mm of rain, and {share:.0%} of the days have no rain told: dry days look "
                    "left empty.", share=share),
               tell("Write 0 for a dry day, and leave empty only what was not read."), "rain")
    for first, last in _stands(series.tmin, series.tmax):
        yield (tell("minimum and maximum are the same on every day from {first} to {last}.",
                    first=_on(series, first), last=_on(series, last)),
               tell("Leave the cells of those days empty: the instrument stood still."), "tmax")


def _coded(rain: Floats) -> float | None:
    """The most rain, where that is a code."""
    most = float(rain.max(initial=0.0))
    if set(f"{most:.6g}") - {"9", "."} or most < 99.0:
        return None
    return most if most >= CODED_FROM or (rain == most).sum() >= CODED_TIMES else None


def _runs_up(rain: Floats) -> bool:
    step = np.diff(rain)
    rises = int((step > 0).sum())
    return rises >= RUNNING and int((step < 0).sum()) < FALLS * rises


def _wet_only(known: Bools, rain: Floats) -> bool:
    read = int(known.sum())
    return read >= WET_ONLY and float(rain[known].min()) > 0.0 and (~known).sum() >= LEFT_EMPTY * read


def _stands(tmin: Floats, tmax: Floats) -> list[tuple[int, int]]:
    """First and last day of each stretch in which neither moves."""
    same = (np.diff(tmin) == 0.0) & (np.diff(tmax) == 0.0)
    return [(first, last + 1) for first, last in unbroken(same) if last - first + 2 >= STANDS]


def _on(series: DailySeries, at: int) -> str:
    return str(day_date(series.start + at))
