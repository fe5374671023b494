"""What a grower's own thermometer says of how the ground differs from the station.

A pure function: readings in, shift out. Minimum and maximum are told apart: a frost hollow is colder by
night, a walled garden warmer by day. Few readings hardly move anything: the shift is shrunk towards nought.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.errors import BadRequest, Problem
from evenpick.climate.weather import WeatherYears

PRIOR_SD = 1.2  # °C that ground a few km off may lie beside its station, before any reading (memory)
FARTHEST = 15.0  # °C from what is expected: a slip of the pen or of the unit, not a climate
NARROWEST = 0.8  # °C that a day's maximum stays above its minimum (growth W2)


@dataclass(frozen=True, slots=True)
class Scatter:
    """How a day's reading strays from what is expected, beside the shift: sd (°C) and how much of it the next
    day keeps."""

    sd: float
    kept: float


SAME_DAY = Scatter(1.5, 0.3)  # against the station's report of that day (memory)
NORMAL = Scatter(3.5, 0.7)  # against the normal of the time of year (growth W2, W3)


@dataclass(frozen=True, slots=True)
class Reading:
    """One day's own reading, °C; None where it was not read."""

    day: int
    tmin: float | None = None
    tmax: float | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A shift, °C, how sure it is (sd, °C), and from how many readings."""

    shift: float
    sd: float
    readings: int


@dataclass(frozen=True, slots=True)
class Shift:
    tmin: Part
    tmax: Part


def own_shift(
    readings: Sequence[Reading], expected_tmin: Floats, expected_tmax: Floats, scatter: Scatter = SAME_DAY
) -> Shift:
    """How the ground differs from the station, shrunk while readings are few.

    `expected_tmin`, `expected_tmax` (readings,) are the station's values of those days, or its normals of the
    time of year with `scatter` NORMAL. Least squares with a normal prior of sd 1.2 °C on the shift and errors
    that fade with the days between them, so that ten days running say less than ten days apart.
    Raises BadRequest for a reading 15 °C and more off, which is no climate.
    Knows nothing of seasons: a shift seen in summer is taken for winter too.
    """
    return Shift(
        _part([r.tmin for r in readings], expected_tmin, readings, scatter, "minimum"),
        _part([r.tmax for r in readings], expected_tmax, readings, scatter, "maximum"),
    )


def _part(
    read: Sequence[float | None], expected: Floats, readings: Sequence[Reading], scatter: Scatter, word: str
) -> Part:
    own = np.array([np.nan if value is None else value for value in read], dtype=np.float64)
    there = ~np.isnan(own) & ~np.isnan(expected)
    off = own[there] - expected[there]
    day = np.array([r.day for r in readings], dtype=np.int64)[there]
    problems = [
        Problem(
            f"a {word} of {own[there][i]:g} °C on {day_date(int(day[i]))} is {abs(off[i]):.0f} °C from the "
            "station's.",
            "Check the reading and its unit.",
        )
        for i in np.flatnonzero(np.abs(off) >= FARTHEST)
    ]
    if problems:
        raise BadRequest(problems)
    return _shrunk(off, day, scatter)


def _shrunk(off: Floats, day: Ints, scatter: Scatter) -> Part:
    """Posterior mean and sd of a common shift of values whose errors fade with the days between."""
    if off.size == 0:
        return Part(0.0, PRIOR_SD, 0)
    apart = np.abs(day[:, None] - day[None, :])
    errors = scatter.sd**2 * scatter.kept**apart
    errors[np.diag_indices(off.size)] += 1e-6  # two readings of one day are one
    weight = np.linalg.solve(errors, np.ones(off.size))
    precision = 1.0 / PRIOR_SD**2 + float(weight.sum())
    return Part(float(weight @ off) / precision, precision**-0.5, int(off.size))


def moved(weather: WeatherYears, shift: Shift) -> WeatherYears:
    """The same weather years on the grower's own ground; a maximum stays above its minimum."""
    tmin = weather.tmin + shift.tmin.shift
    tmax = np.maximum(weather.tmax + shift.tmax.shift, tmin + NARROWEST)
    note = (
        f"Your own readings moved the nights by {shift.tmin.shift:+.1f} °C ({shift.tmin.readings} readings) "
        f"and the days by {shift.tmax.shift:+.1f} °C ({shift.tmax.readings})."
    )
    origin = replace(weather.origin, notes=(*weather.origin.notes, note))
    return replace(weather, tmin=tmin, tmax=tmax, origin=origin)
