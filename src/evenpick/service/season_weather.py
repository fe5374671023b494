"""This season's weather: the days that were measured, the rest as the weather years have it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, BadWeatherFile, Problem
from evenpick.base.language import later, tell
from evenpick.climate.ensemble import member_starts
from evenpick.climate.fetched import Fetched, point_of, read_fetched
from evenpick.climate.own_readings import NARROWEST, Shift
from evenpick.climate.radiation import fill_radiation
from evenpick.climate.readers.record import read_record
from evenpick.climate.records import packaged_record
from evenpick.climate.series import DailySeries
from evenpick.climate.site import Site
from evenpick.climate.weather import MEASURED, NEEDED, WeatherYears
from evenpick.garden.diary import Reading
from evenpick.garden.garden import WeatherChoice
from evenpick.service.climate import LEAST_MEMBERS, own_ground, weather_for
from evenpick.service.fetched_ground import shift_of_fetched, told_of
from evenpick.service.thermometer import own_readings

SHORT = later("The record holds no whole season: its days are this season's, the weather years are the "
              "site's own.")
MOST_RAIN = 2000.0
"""mm in a day: the world has seen 1,825 (memory)"""


@dataclass(frozen=True, slots=True)
class SeasonWeather:
    weather: WeatherYears
    """the weather years with every measured day of this season in all of them"""
    years: WeatherYears
    """the weather years as they are"""
    warmed: Bools
    """days whose minimum and maximum were both measured; (days,)"""
    rained: Bools
    """days whose rain was measured; (days,)"""
    notes: tuple[str, ...]


def season_weather(
    site: Site, choice: WeatherChoice, start: int, days: int, rain: Mapping[date, float], seed: int,
    until: int | None = None, least: int = LEAST_MEMBERS,
) -> SeasonWeather:
    """Weather years from day number `start` with this season's measured days in them.

    Measured days are those of the record that was named (`choice`), on the grower's own ground; of a day
    without minimum or maximum the warmth, of one without rain the rain stays as the weather years have it.
    What the grower read goes before that, and `rain` (mm by day, the grower's gauge) before all. A record too
    short to make a single weather year lends its days alone; the years are then those of the site. Days from
    day number `until` on are not known yet; `least` as in `weather_for`.
    """
    series = _named(choice)
    short = series is not None and not member_starts(series, start, days).size
    asked = replace(choice, record=None, packaged=None) if short else choice
    years = weather_for(site, asked, start, days, seed, least)
    weather, warm, wet = years, np.zeros(days, dtype=bool), np.zeros(days, dtype=bool)
    if series is not None:
        here = series if short else _moved(series, own_ground(site, choice, day_date(start).year))
        weather, warm, wet = _spliced(weather, here, site, until)
    weather, told = with_fetched(weather, site, choice, until, (warm, wet))
    read = {day: one for day, one in own_readings(choice).items() if until is None or day < until}
    weather, gauged = _gauged(with_readings(weather, read), rain)
    warmed, rained = read_days(read, start, days)
    return SeasonWeather(
        weather, years, warm | told | warmed, wet | told | rained | gauged, (tell(SHORT),) if short else ()
    )


def _named(choice: WeatherChoice) -> DailySeries | None:
    if choice.record is not None:
        return read_record(choice.record)[0]
    return packaged_record(choice.packaged)[0] if choice.packaged is not None else None


def with_fetched(
    weather: WeatherYears, site: Site, choice: WeatherChoice, until: int | None = None,
    recorded: tuple[Bools, Bools] | None = None,
) -> tuple[WeatherYears, Bools]:
    """The years with the days in them that were fetched for the garden, and which of them have been; (days,).

    They are moved by what the grower's own thermometer says against them (docs/design/season.md, 18). A
    forecast stands where it was made on day number `until` or before, and is no day that has been. Warmth and
    rain `recorded` already, (days,) each, stay. BadWeatherFile where the file is of another place than the
    site.
    """
    days = weather.start + np.arange(weather.days)
    if choice.fetched is None:
        return weather, np.zeros(weather.days, dtype=bool)
    fetched = read_fetched(choice.fetched)
    if fetched.point != point_of(site):
        what = tell("this weather was fetched for {point:g}, {point_2:g}, another place.",
                    point=fetched.point[0], point_2=fetched.point[1])
        raise BadWeatherFile(Problem(what, tell("Fetch it again, or delete the file."), choice.fetched.name))
    been = np.isin(days, fetched.known) & ((days < until) if until is not None else True)
    made = fetched.forecast_from
    ahead = made is not None and (until is None or made <= until)
    wanted = been | ((days >= (made or 0)) & ahead)
    own = shift_of_fetched(fetched, choice, until)
    spliced, warm, wet = _spliced(weather, _moved(fetched.series, own), site, None)
    has_warmth, has_rain = recorded or (np.zeros(days.size, dtype=bool),) * 2
    wanted &= warm & wet & ~(has_warmth & has_rain)
    if not wanted.any():
        return weather, wanted
    origin = replace(weather.origin, notes=(*weather.origin.notes, _whose(fetched), *told_of(fetched, own)))
    there = {name: getattr(spliced, name) for name in (*NEEDED, *MEASURED)}
    joined = _joined(weather, there, wanted & ~has_warmth, wanted & ~has_rain)
    return replace(joined, origin=origin), np.asarray(wanted & been)


def _whose(fetched: Fetched) -> str:
    """Whose days they are, and which are a forecast."""
    last = fetched.series.start + fetched.series.days - 1
    ahead = "" if fetched.forecast_from is None else tell("; its forecast to {last} is taken as it is",
                                                          last=day_date(last))
    return tell("This season to {known} is from {service} ({licence}), fetched on "
                "{moment:%Y-%m-%d}{ahead}.", known=day_date(fetched.known[-1]), service=fetched.service,
                licence=fetched.licence, moment=fetched.moment, ahead=ahead)


def _moved(series: DailySeries, own: Shift | None) -> DailySeries:
    """Days as they were on the grower's own ground."""
    if own is None:
        return series
    days = series.start + np.arange(series.days)
    tmin = series.tmin + own.tmin.at(days)
    return series.with_warmth(tmin, np.fmax(series.tmax + own.tmax.at(days), tmin + NARROWEST))


def _spliced(
    weather: WeatherYears, series: DailySeries, site: Site, until: int | None
) -> tuple[WeatherYears, Bools, Bools]:
    """The years with the series' days in them, and on which of these warmth and rain are its own; (days,).

    A day whose warmth is its own has its own wind and damp too, or none where they were not measured.
    """
    filled, _ = fill_radiation(series, site.lat)
    at = np.arange(weather.days) + weather.start - series.start
    inside = (at >= 0) & (at < series.days)
    if until is not None:
        inside &= np.arange(weather.days) + weather.start < until
    taken = np.where(inside, at, 0)
    measured = {
        name: np.where(inside, getattr(filled, name)[taken], np.nan) for name in (*NEEDED, *MEASURED)
    }
    wet = ~np.isnan(measured["rain"])
    warm = ~np.isnan(measured["tmin"] + measured["tmax"] + measured["radiation"])
    return _joined(weather, measured, warm, wet), warm, wet


def _joined(
    weather: WeatherYears, there: Mapping[str, Floats | None], warm: Bools, wet: Bools
) -> WeatherYears:
    """The weather with the rain of `wet` days and all else of `warm` ones as it is `there`; (days,) each, and
    there (days,) or (years, days)."""
    columns: dict[str, Any] = {}
    for name in (*NEEDED, *MEASURED):
        here, own = getattr(weather, name), there[name]
        chosen = wet if name == "rain" else warm
        if here is None and (own is None or np.isnan(own[..., chosen]).all()):
            columns[name] = None
        else:
            columns[name] = np.where(chosen, np.nan if own is None else own,
                                     np.full_like(weather.tmin, np.nan) if here is None else here)
    if columns["vapour_pressure"] is None:
        columns["wind"] = None
    return replace(weather, **columns)


def with_readings(weather: WeatherYears, readings: Mapping[int, Reading]) -> WeatherYears:
    """The weather with what was read in it, a minimum never left above its maximum."""
    tmin, tmax, rain = weather.tmin.copy(), weather.tmax.copy(), weather.rain.copy()
    for day, seen in readings.items():
        at = day - weather.start
        if not 0 <= at < weather.days:
            continue
        if seen.tmin is not None:
            tmin[:, at], tmax[:, at] = seen.tmin, np.maximum(tmax[:, at], seen.tmin)
        if seen.tmax is not None:
            tmax[:, at], tmin[:, at] = seen.tmax, np.minimum(tmin[:, at], seen.tmax)
        if seen.rain is not None:
            rain[:, at] = seen.rain
    return replace(weather.with_warmth(tmin, tmax), rain=rain)


def read_days(readings: Mapping[int, Reading], start: int, days: int) -> tuple[Bools, Bools]:
    """Days on which minimum and maximum were both read, and days on which rain was; (days,) each."""
    warmed, rained = np.zeros(days, dtype=bool), np.zeros(days, dtype=bool)
    for day, one in readings.items():
        if 0 <= day - start < days:
            warmed[day - start] = one.tmin is not None and one.tmax is not None
            rained[day - start] = one.rain is not None
    return warmed, rained


def _gauged(weather: WeatherYears, rain: Mapping[date, float]) -> tuple[WeatherYears, Bools]:
    fallen, gauged = weather.rain.copy(), np.zeros(weather.days, dtype=bool)
    for when, mm in rain.items():
        at = day_number(when) - weather.start
        if not 0 <= at < weather.days:
            what, mend = tell("rain on {when} is not in this season.",
                              when=when), tell("Give days near the sow date.")
            raise BadRequest(Problem(what, mend, field="--rain"))
        if not 0.0 <= mm <= MOST_RAIN:
            what, mend = tell("{mm:g} mm of rain on {when} can't be.", mm=mm, when=when), tell(
                        "Give mm from 0 to {most_rain:.0f}.", most_rain=MOST_RAIN)
            raise BadRequest(Problem(what, mend, field="--rain"))
        fallen[:, at], gauged[at] = mm, True
    return replace(weather, rain=fallen), gauged
