"""This season's weather: the days that were measured, the rest as the weather years have it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.climate.ensemble import member_starts
from evenpick.climate.radiation import fill_radiation
from evenpick.climate.readers.record import read_record
from evenpick.climate.records import packaged_record
from evenpick.climate.series import DailySeries
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.garden.garden import WeatherChoice
from evenpick.service.climate import LEAST_MEMBERS, weather_for

NEEDED = ("tmin", "tmax", "rain", "radiation")
SHORT = "The record holds no whole season: its days are this season's, the weather years are the site's own."
MOST_RAIN = 2000.0
"""mm in a day: the world has seen 1,825 (memory)"""


@dataclass(frozen=True, slots=True)
class SeasonWeather:
    weather: WeatherYears
    """the weather years with every measured day of this season in all of them"""
    years: WeatherYears
    """the weather years as they are"""
    recorded: Bools
    """days whose weather or rain was measured; (days,)"""
    notes: tuple[str, ...]


def season_weather(
    site: Site, choice: WeatherChoice, start: int, days: int, rain: Mapping[date, float], seed: int,
    until: int | None = None, least: int = LEAST_MEMBERS,
) -> SeasonWeather:
    """Weather years from day number `start` with this season's measured days in them.

    Measured days are those of the record that was named (`choice`), as they stand in it; a day without
    minimum, maximum or rain stays as the weather years have it. `rain` (mm by day, the grower's gauge) goes
    before both. A record too short to make a single weather year lends its days alone; the years are then
    those of the site. Days from day number `until` on are not known yet; `least` as in `weather_for`.
    """
    series = _named(choice)
    short = series is not None and not member_starts(series, start, days).size
    asked = WeatherChoice(warmer=choice.warmer, moved=choice.moved) if short else choice
    years = weather_for(site, asked, start, days, seed, least)
    weather, recorded = years, np.zeros(days, dtype=bool)
    if series is not None:
        weather, recorded = _spliced(weather, series, site, until)
    weather, gauged = _gauged(weather, rain)
    return SeasonWeather(weather, years, recorded | gauged, (SHORT,) if short else ())


def _named(choice: WeatherChoice) -> DailySeries | None:
    if choice.record is not None:
        return read_record(choice.record)[0]
    return packaged_record(choice.packaged)[0] if choice.packaged is not None else None


def _spliced(
    weather: WeatherYears, series: DailySeries, site: Site, until: int | None
) -> tuple[WeatherYears, Bools]:
    filled, _ = fill_radiation(series, site.lat)
    at = np.arange(weather.days) + weather.start - series.start
    inside = (at >= 0) & (at < series.days)
    if until is not None:
        inside &= np.arange(weather.days) + weather.start < until
    taken = np.where(inside, at, 0)
    measured = {name: np.where(inside, getattr(filled, name)[taken], np.nan) for name in NEEDED}
    whole = ~np.isnan(sum(measured.values()))
    tmin, tmax, rain, radiation = (np.where(whole, measured[name], getattr(weather, name)) for name in NEEDED)
    return replace(weather, tmin=tmin, tmax=tmax, rain=rain, radiation=radiation), whole


def _gauged(weather: WeatherYears, rain: Mapping[date, float]) -> tuple[WeatherYears, Bools]:
    fallen, gauged = weather.rain.copy(), np.zeros(weather.days, dtype=bool)
    for when, mm in rain.items():
        at = day_number(when) - weather.start
        if not 0 <= at < weather.days:
            what, mend = f"rain on {when} is not in this season.", "Give days near the sow date."
            raise BadRequest(Problem(what, mend, field="--rain"))
        if not 0.0 <= mm <= MOST_RAIN:
            what, mend = f"{mm:g} mm of rain on {when} can't be.", f"Give mm from 0 to {MOST_RAIN:.0f}."
            raise BadRequest(Problem(what, mend, field="--rain"))
        fallen[:, at], gauged[at] = mm, True
    return replace(weather, rain=fallen), gauged
