"""What a grower's own thermometer says of how the ground differs from the station.

A pure function: readings in, shift out. Minimum and maximum are told apart: a frost hollow is colder by
night, a walled garden warmer by day. Few readings hardly move anything: the shift is shrunk towards nought.
docs/design/weather.md, O1 to O6.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import hypot
from typing import Literal

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.language import tell, tell_n
from evenpick.climate.weather import WeatherYears

NARROWEST = 0.8  # °C that a day's maximum stays above its minimum (growth W2)
FEWEST = 7
"""readings; fewer move nothing (our choice)"""
STEADY, HALF_WEEK = 5, 3
"""readings within so many days either side: who reads only on cold nights reads no normal (our choice)"""
YEAR = 365.2425
SLOW_DAYS = 30.0
"""days over which the slow part of the weather fades (growth W2)"""


@dataclass(frozen=True, slots=True)
class Prior:
    """What ground may differ from its station before any reading, °C: all year, and how that swings over it.

    From the packaged normals: 129 pairs of stations within 30 km of each other, moved to one height, differ
    in the year's mean by 1.21 (minimum) and 0.83 (maximum), and their months from that by 0.43 and 0.53
    (rms; authorities/own_thermometer.md)."""

    year: float
    swing: float

    @property
    def sd(self) -> float:
        return hypot(self.year, self.swing)


PRIOR = {"minimum": Prior(1.2, 0.45), "maximum": Prior(0.85, 0.5)}


@dataclass(frozen=True, slots=True)
class Scatter:
    """How a day's reading strays from what is expected, beside the shift: sd (°C), how much of it the next
    day keeps, and what share of the variance fades slowly instead."""

    sd: float
    kept: float
    slow: float


SAME_DAY = Scatter(1.5, 0.3, 0.05)
"""against the station's report of that day: 1.1 to 1.2 at 84 km, 1.6 to 1.9 at 155 km (the same study)"""
NORMAL = Scatter(3.5, 0.7, 0.1)
"""against the normal of the time of year: 2.6 to 5.4 at seven places (the same study)"""
FARTHEST = {True: 15.0, False: 25.0}
"""°C from the station's day, from the normal: a slip of the pen or of the unit, not a climate (our choice)"""

Word = Literal["minimum", "maximum"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One day's own reading, °C; None where it was not read."""

    day: int
    tmin: float | None = None
    tmax: float | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A shift, °C: its mean over the year, and its swing as cosine and sine of the time of year.

    `month_shift`, `month_sd` (12 each) are those of the middles of the months; `sd` is the year's."""

    shift: float
    swing: tuple[float, float]
    sd: float
    readings: int
    """readings that count"""
    month_shift: tuple[float, ...]
    month_sd: tuple[float, ...]

    def at(self, days: Ints) -> Floats:
        """The shift on day numbers (n,), °C."""
        angle = _angle(days)
        return np.asarray(self.shift + self.swing[0] * np.cos(angle) + self.swing[1] * np.sin(angle))


@dataclass(frozen=True, slots=True)
class Shift:
    tmin: Part
    tmax: Part
    same_day: int = 0
    """days of which the station's own report is known; the others were held against its normals"""
    left_out: tuple[str, ...] = ()
    """readings that can't be a climate's, in words"""


def own_shift(
    readings: Sequence[Reading], expected_tmin: Floats, expected_tmax: Floats, same_day: Bools
) -> Shift:
    """How the ground differs from the station, shrunk while readings are few; nought below seven.

    `expected_tmin`, `expected_tmax` (readings,) are the station's values of those days where `same_day`, else
    its normals of the time of year. Least squares with normal priors on the shift and its swing over the
    year, and errors that fade with the days between them, so that ten days running say less than ten days
    apart.
    Against normals only days read steadily count (five of the seven about them): frosts noted when they
    strike would make any garden a frost hollow. A reading 15 °C and more from the station's day, 25 from the
    normal, is left out and told.

    Valid for air temperature at screen height within about 50 km. Knows nothing of the kind of weather: a
    hollow is colder on clear nights than on dull ones, and only the mean of both is moved. A thermometer in
    the sun or by a wall is taken at its word. Expected error: authorities/own_thermometer.md.
    """
    low, told_low = _part([r.tmin for r in readings], expected_tmin, readings, same_day, "minimum")
    high, told_high = _part([r.tmax for r in readings], expected_tmax, readings, same_day, "maximum")
    return Shift(low, high, int(same_day.sum()), (*told_low, *told_high))


def _part(
    read: Sequence[float | None], expected: Floats, readings: Sequence[Reading], same_day: Bools, word: Word
) -> tuple[Part, tuple[str, ...]]:
    own = np.array([np.nan if value is None else value for value in read], dtype=np.float64)
    day = np.array([r.day for r in readings], dtype=np.int64)
    off = own - expected
    farthest = np.where(same_day, FARTHEST[True], FARTHEST[False])
    with np.errstate(invalid="ignore"):
        wrong = np.abs(off) >= farthest
    told = tuple(
        tell("a {word} of {own:g} °C on {day} is {off:.0f} °C from what is expected there: left out, "
             "check it and its unit.", word=word, own=own[i], day=day_date(int(day[i])), off=abs(off[i]))
        for i in np.flatnonzero(wrong)
    )
    counts = ~np.isnan(off) & ~wrong
    counts &= same_day | _steady(day, counts)
    if counts.sum() < FEWEST:
        return _none(PRIOR[word], int(counts.sum())), told
    differences, days, of_same_day = (tuple(column[counts].tolist()) for column in (off, day, same_day))
    return _shrunk(differences, days, of_same_day, PRIOR[word]), told


def _steady(day: Ints, there: Bools) -> Bools:
    """Days about which it was read nearly every day."""
    near = (np.abs(day[:, None] - day[None, :]) <= HALF_WEEK) & there[None, :]
    return np.asarray(near.sum(axis=1) >= STEADY)


def _none(prior: Prior, readings: int) -> Part:
    return Part(0.0, (0.0, 0.0), prior.year, readings, (0.0,) * 12, (prior.sd,) * 12)


@lru_cache(maxsize=8)  # its work grows with the readings' square, and every stretch of weather asks anew
def _shrunk(
    differences: tuple[float, ...], days: tuple[int, ...], of_same_day: tuple[bool, ...], prior: Prior
) -> Part:
    """Posterior mean and covariance of the year's shift and its swing (gelman2013, section 14.8)."""
    off, day = np.array(differences), np.array(days, dtype=np.int64)
    errors = _errors(day, np.array(of_same_day))
    design = _design(day)
    weighed = np.linalg.solve(errors, design)
    precision = np.diag([prior.year**-2, prior.swing**-2, prior.swing**-2]) + design.T @ weighed
    spread = np.linalg.inv(precision)
    mean = spread @ (weighed.T @ off)
    months = _design(np.rint((np.arange(12) + 0.5) * YEAR / 12).astype(np.int64))
    month_sd = np.sqrt(np.einsum("ij,jk,ik->i", months, spread, months))
    return Part(
        float(mean[0]), (float(mean[1]), float(mean[2])), float(spread[0, 0] ** 0.5), int(off.size),
        tuple(map(float, months @ mean)), tuple(map(float, month_sd)),
    )


def _errors(day: Ints, same_day: Bools) -> Floats:
    """Covariance of the readings' errors; those against the day and those against normals share nothing."""
    apart = np.abs(day[:, None] - day[None, :])
    errors = np.zeros(apart.shape)
    for scatter, of_kind in ((SAME_DAY, same_day), (NORMAL, ~same_day)):
        fades = (1 - scatter.slow) * scatter.kept**apart + scatter.slow * np.exp(-apart / SLOW_DAYS)
        errors += scatter.sd**2 * fades * np.outer(of_kind, of_kind)
    errors[np.diag_indices(day.size)] += 1e-6  # two readings of one day are one
    return errors


def _design(days: Ints) -> Floats:
    angle = _angle(days)
    return np.column_stack([np.ones(days.size), np.cos(angle), np.sin(angle)])


def _angle(days: Ints) -> Floats:
    """Time of year from day numbers; day 0 is a 1 January."""
    return np.asarray(2 * np.pi * days / YEAR)


def on_own_ground(weather: WeatherYears, shift: Shift) -> WeatherYears:
    """The same weather years on the grower's own ground; a maximum stays above its minimum."""
    days = weather.start + np.arange(weather.days)
    tmin = weather.tmin + shift.tmin.at(days)
    tmax = np.maximum(weather.tmax + shift.tmax.at(days), tmin + NARROWEST)
    origin = replace(weather.origin, notes=(*weather.origin.notes, note(shift), *shift.left_out))
    return replace(weather.with_warmth(tmin, tmax), origin=origin)


def note(shift: Shift) -> str:
    """What the readings did, in a sentence."""
    parts = [
        tell("{words} {shift:+.1f} °C ({readings} readings)", words=words, shift=part.shift,
             readings=part.readings)
        for words, part in (("nights", shift.tmin), ("days", shift.tmax)) if part.readings >= FEWEST
    ]
    if parts:
        return tell("Moved by your own thermometer, over the year: {parts}.", parts=", ".join(parts))
    most = max(shift.tmin.readings, shift.tmax.readings)
    return tell_n("Your own thermometer moves nothing yet: {n} reading counts, {fewest} are wanted, read "
                  "day after day.",
                  "Your own thermometer moves nothing yet: {n} readings count, {fewest} are wanted, read "
                  "day after day.", most, fewest=FEWEST)
