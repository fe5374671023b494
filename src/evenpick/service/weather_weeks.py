"""This season's weather against the years, week by week."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number, monday_of
from evenpick.climate.fetched import read_fetched
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.own_readings import FEWEST
from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.service.climate import own_ground
from evenpick.service.fetched_ground import over, shift_of_fetched
from evenpick.service.outlook_answer import Band
from evenpick.service.season_weather import read_days, season_weather, with_readings
from evenpick.service.setups import garden_of
from evenpick.service.thermometer import own_readings

BEFORE, AFTER = 26, 26
"""weeks told before and after the one that is asked for"""
TAIL = 120
"""days of weather past them, so that the last year of a record is whole"""
ENOUGH = 4
"""measured days from which a week of this season is told"""
EIGHTY = 1.2816
"""sd either side that hold 80 %"""
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
    """this season's, each over the days on which it was measured; None where fewer than four were"""
    measured: int
    """days of it of which warmth or rain was measured here or by the record"""


@dataclass(frozen=True, slots=True)
class WeatherAnswer:
    site: Site
    climate: ClimateOrigin
    day: date
    weeks: tuple[WeatherWeek, ...]
    readings: int
    """of the days measured those whose minimum and maximum the grower read"""
    own: OwnGround | None
    """what they say of the ground against the station; None where no temperature was read"""
    fetched: FetchedDays | None
    """None where nothing was fetched"""


@dataclass(frozen=True, slots=True)
class FetchedDays:
    """Days of this season that a weather service told."""

    service: str
    licence: str
    on: date
    first: date
    last: date
    """the last that has been"""
    missing: int
    """days between them without minimum, maximum or rain"""
    forecast_to: date | None
    nights_read: int
    days_read: int
    """of them, that count"""
    nights: float
    days: float
    """°C that they are moved by the grower's thermometer held against them, in their mean"""


@dataclass(frozen=True, slots=True)
class OwnMonth:
    """One month's shift of nights and days against the station, °C, each with what 8 in 10 lie within."""

    month: int
    readings: int
    """days read in it, in all years"""
    nights: float
    nights_within: float
    days: float
    days_within: float


@dataclass(frozen=True, slots=True)
class OwnGround:
    """What the grower's own thermometer says; the readings that count, °C over the year, and by month."""

    nights_read: int
    days_read: int
    same_day: int
    """days read of which the station's own report is known; the others were held against its normals"""
    nights: float
    days: float
    months: tuple[OwnMonth, ...]
    """none where too few count to move anything"""
    left_out: tuple[str, ...]


def weather_weeks(garden: Path, day: date, seed: int = DEFAULT_SEED) -> WeatherAnswer:
    """Half a year back and half a year ahead of a day. Bands are 10, 50 and 90 % of the weather years.
    BadGarden, BadWeatherFile, BadBook."""
    described = garden_of(garden)
    monday = monday_of(day) - timedelta(weeks=BEFORE)
    start, weeks = day_number(monday), BEFORE + AFTER + 1
    season = season_weather(described.site, described.weather, start, 7 * weeks + TAIL, {}, seed,
                            day_number(day))
    readings = own_readings(described.weather)
    here = with_readings(season.weather, readings)
    by_hand, gauged = read_days(readings, start, season.weather.days)
    mean, own = _mean(season.years.tmin, season.years.tmax), _mean(here.tmin, here.tmax)[0]
    told = _weeks(monday, weeks, mean, season.years.rain, season.years.tmin, own, here.rain[0],
                  season.warmed | by_hand, season.rained | gauged)
    own = _own(described.site, described.weather, day)
    return WeatherAnswer(described.site, season.years.origin, day, tuple(told),
                         int(by_hand[: 7 * weeks].sum()), own,
                         _fetched(described.weather, day_number(day)))


def _fetched(choice: WeatherChoice, until: int) -> FetchedDays | None:
    if choice.fetched is None:
        return None
    found = read_fetched(choice.fetched)
    series, known, own = found.series, len(found.known), shift_of_fetched(found, choice, until)
    lacking = np.isnan(series.tmin + series.tmax + series.rain)[:known]
    last = day_date(series.start + series.days - 1)
    return FetchedDays(
        found.service, found.licence, found.moment.date(), day_date(found.known[0]),
        day_date(found.known[-1]), int(lacking.sum()), None if found.forecast_from is None else last,
        own.tmin.readings, own.tmax.readings, over(found, own.tmin), over(found, own.tmax),
    )


def _own(site: Site, choice: WeatherChoice, day: date) -> OwnGround | None:
    shift = own_ground(site, choice, day.year)
    if shift is None:
        return None
    low, high = shift.tmin, shift.tmax
    read = [day_date(when).month for when, one in own_readings(choice).items()
            if one.tmin is not None or one.tmax is not None]
    months = tuple(
        OwnMonth(month, read.count(month), low.month_shift[month - 1], EIGHTY * low.month_sd[month - 1],
                 high.month_shift[month - 1], EIGHTY * high.month_sd[month - 1])
        for month in range(1, 13)
    )
    enough = max(low.readings, high.readings) >= FEWEST
    return OwnGround(
        low.readings, high.readings, shift.same_day, low.shift, high.shift, months if enough else (),
        shift.left_out,
    )


def _mean(tmin: Floats, tmax: Floats) -> Floats:
    mean: Floats = (tmin + tmax) / 2
    return mean


def _weeks(
    monday: date, weeks: int, mean: Floats, rain: Floats, tmin: Floats, own: Floats, own_rain: Floats,
    warmed: Bools, rained: Bools,
) -> Iterator[WeatherWeek]:
    for at in range(weeks):
        days = slice(7 * at, 7 * at + 7)
        warm, wet = warmed[days], rained[days]
        yield WeatherWeek(
            monday + timedelta(weeks=at), _band(mean[:, days].mean(axis=1)), _band(rain[:, days].sum(axis=1)),
            float((tmin[:, days] <= FROST).any(axis=1).mean()),
            float(own[days][warm].mean()) if warm.sum() >= ENOUGH else None,
            float(own_rain[days][wet].mean() * 7) if wet.sum() >= ENOUGH else None, int((warm | wet).sum()),
        )


def _band(values: Floats) -> Band:
    low, likely, high = (float(each) for each in np.quantile(values, (0.1, 0.5, 0.9)))
    return Band(low, likely, high)
