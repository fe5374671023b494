"""This season's weather against the years, week by week."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number, monday_of
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.garden.diary import Reading
from evenpick.service.answers import Band
from evenpick.service.book import record_of
from evenpick.service.expected import with_readings
from evenpick.service.season_weather import season_weather
from evenpick.service.setups import garden_of

BEFORE, AFTER = 26, 26
"""weeks told before and after the one that is asked for"""
TAIL = 120
"""days of weather past them, so that the last year of a record is whole"""
FROST = 0.0
"""°C of the air that counts as frost"""


@dataclass(frozen=True, slots=True)
class WeatherWeek:
    week: date
    """the Monday"""
    mean: Band
    """°C, mean of the days' minimum and maximum"""
    rain: Band
    """mm in the week"""
    frost: float
    """share of the years with a night of frost in it"""
    this_mean: float | None
    this_rain: float | None
    """this season's, over its measured days; None where fewer than four were"""
    measured: int
    """days of it that were measured here or by the record"""


@dataclass(frozen=True, slots=True)
class WeatherAnswer:
    site: Site
    climate: ClimateOrigin
    day: date
    weeks: tuple[WeatherWeek, ...]
    readings: int
    """days that the grower read instruments of their own"""


def weather_weeks(garden: Path, day: date, seed: int = DEFAULT_SEED) -> WeatherAnswer:
    """Half a year back and half a year ahead of a day. Bands are 10, 50 and 90 % of the weather years.
    BadGarden, BadWeatherFile, BadBook."""
    described, record = garden_of(garden), record_of(garden, (Reading.kind,))
    monday = monday_of(day) - timedelta(weeks=BEFORE)
    start, weeks = day_number(monday), BEFORE + AFTER + 1
    season = season_weather(described.site, described.weather, start, 7 * weeks + TAIL, {}, seed,
                            day_number(day))
    readings = record.readings
    here = with_readings(season.weather, readings)
    known = season.recorded | _read(readings, start, season.weather.days)
    mean, own = _mean(season.years.tmin, season.years.tmax), _mean(here.tmin, here.tmax)[0]
    told = _weeks(monday, weeks, mean, season.years.rain, season.years.tmin, own, here.rain[0], known)
    return WeatherAnswer(described.site, season.years.origin, day, tuple(told), len(readings))


def _read(readings: Mapping[int, Reading], start: int, days: int) -> Bools:
    """Days on which minimum and maximum were both read."""
    known = np.zeros(days, dtype=bool)
    for when, fact in readings.items():
        if fact.tmin is not None and fact.tmax is not None and 0 <= when - start < days:
            known[when - start] = True
    return known


def _mean(tmin: Floats, tmax: Floats) -> Floats:
    mean: Floats = (tmin + tmax) / 2
    return mean


def _weeks(
    monday: date, weeks: int, mean: Floats, rain: Floats, tmin: Floats, own: Floats, own_rain: Floats,
    known: Bools,
) -> Iterator[WeatherWeek]:
    for at in range(weeks):
        days = slice(7 * at, 7 * at + 7)
        measured = known[days]
        enough = int(measured.sum()) >= 4
        yield WeatherWeek(
            monday + timedelta(weeks=at), _band(mean[:, days].mean(axis=1)), _band(rain[:, days].sum(axis=1)),
            float((tmin[:, days] <= FROST).any(axis=1).mean()),
            float(own[days][measured].mean()) if enough else None,
            float(own_rain[days][measured].mean() * 7) if enough else None, int(measured.sum()),
        )


def _band(values: Floats) -> Band:
    low, likely, high = (float(each) for each in np.quantile(values, (0.1, 0.5, 0.9)))
    return Band(low, likely, high)
