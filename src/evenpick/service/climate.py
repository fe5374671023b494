"""Which weather years an answer rests on, the best first (docs/design/weather.md)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.language import tell_n
from evenpick.climate.around import normals_at
from evenpick.climate.ensemble import generated, generated_at, member_starts, members, moved
from evenpick.climate.gaps import fill_gaps, usable_starts
from evenpick.climate.normals import MonthlyNormals, read_normals_toml
from evenpick.climate.origin import ANOTHERS
from evenpick.climate.own_normals import record_normals
from evenpick.climate.own_readings import Reading, Shift, on_own_ground, own_shift
from evenpick.climate.readers.doubtful import check_season
from evenpick.climate.readers.record import read_record
from evenpick.climate.records import RecordPlace, packaged_record, packaged_records
from evenpick.climate.seasonal import cycle, cycle_days
from evenpick.climate.series import DailySeries, Origin
from evenpick.climate.shift import warmed
from evenpick.climate.site import Site
from evenpick.climate.stations import great_circle_km
from evenpick.climate.trend import remove_trend
from evenpick.climate.weather import WeatherYears
from evenpick.garden.garden import Elsewhere, WeatherChoice
from evenpick.service.thermometer import own_readings

YEARS = 60
NEAR_KM = 25.0
NEAR_HEIGHT = 100.0
"""a packaged record no farther and no higher than this stands for the site itself"""
LEAST_MEMBERS = 15
"""a record that gives fewer weather years than this lends its normals instead (a plan asks for more)"""


def weather_for(
    site: Site, choice: WeatherChoice, start: int, days: int, seed: int, least: int = LEAST_MEMBERS
) -> WeatherYears:
    """The ensemble for a site: its own daily record, typed normals, a packaged record close by, or the
    nearest station's normals through the generator; moved to the grower's own ground where the grower read a
    thermometer, made warmer where that was asked."""
    years = _as_it_was(site, choice, start, days, seed, least)
    own = own_ground(site, choice, day_date(start).year)
    return warmed(years if own is None else on_own_ground(years, own), choice.warmer)


def own_ground(site: Site, choice: WeatherChoice, year: int) -> Shift | None:
    """How the grower's ground differs from the station that `weather_for` takes, at the warmth of `year`;
    None where the grower read no temperature."""
    read = [Reading(day, one.tmin, one.tmax) for day, one in sorted(own_readings(choice).items())
            if one.tmin is not None or one.tmax is not None]
    if not read:
        return None
    series, tmin, tmax = _station_read(site, choice, year)
    days = np.array([reading.day for reading in read], dtype=np.int64)
    place = np.array([cycle_days(reading.day, 1)[0] for reading in read])
    low, high = _reported(series, days)
    same_day = ~(np.isnan(low) | np.isnan(high))
    usual = cycle(tmin)[place], cycle(tmax)[place]
    return own_shift(
        read, np.where(same_day, low, usual[0]), np.where(same_day, high, usual[1]), same_day
    )


def _station_read(
    site: Site, choice: WeatherChoice, year: int
) -> tuple[DailySeries | None, Floats, Floats]:
    """The station's days where it has any, and its monthly minimum and maximum as they are now."""
    known = None if choice.moved is not None else named_record(site, choice)
    if known is None:
        normals = own_months(site, choice)
        return None, normals.tmin, normals.tmax
    series, origin = as_read(known)
    now, _ = remove_trend(fill_gaps(series, file=origin.file)[0], year)
    normals = record_normals(now, origin, site)
    return series, normals.tmin, normals.tmax


def _reported(series: DailySeries | None, days: Ints) -> tuple[Floats, Floats]:
    """What the station reported on those days; NaN where it did not."""
    if series is None:
        return np.full(days.size, np.nan), np.full(days.size, np.nan)
    at = days - series.start
    inside = (at >= 0) & (at < series.days)
    taken = np.where(inside, at, 0)
    return np.where(inside, series.tmin[taken], np.nan), np.where(inside, series.tmax[taken], np.nan)


def _as_it_was(
    site: Site, choice: WeatherChoice, start: int, days: int, seed: int, least: int
) -> WeatherYears:
    if choice.moved is not None:
        return _elsewhere(choice.moved, site, choice, start, days)
    if choice.record is not None:
        return _own(*read_record(choice.record), site, start, days, seed, least)
    if choice.packaged is not None:
        return _packaged(choice.packaged, site, start, days)
    if choice.normals is not None:
        return _typed(read_normals_toml(choice.normals), site, start, days, seed)
    near = record_nearby(site)
    return _packaged(near.name, site, start, days) if near else generated_at(site, start, days, YEARS, seed)


def _packaged(name: str, site: Site, start: int, days: int) -> WeatherYears:
    series, origin = packaged_record(name)
    whole, notes = fill_gaps(series, file=origin.file)
    return _told(members(whole, origin, site, start, days), origin, site, "packaged daily record",
                 notes)


def _own(
    series: DailySeries, origin: Origin, site: Site, start: int, days: int, seed: int, least: int
) -> WeatherYears:
    """The grower's own record as it was, or its twelve normals through the generator where it is short."""
    check_season(series, site.lat, origin.file)
    whole, notes = fill_gaps(series, file=origin.file)
    starts = member_starts(whole, start, days)
    usable = int(usable_starts(whole, starts, days).sum())
    if usable >= least:
        return _told(members(whole, origin, site, start, days), origin, site, "own daily record", notes)
    normals = record_normals(whole, origin, site)
    made = generated(normals, site, start, days, YEARS, seed, None, None)
    short = (
        tell_n("The record gives {n} weather year of the {least} wanted here: its monthly figures "
               "were used, through {years} made years.",
               "The record gives {n} weather years of the {least} wanted here: its monthly figures "
               "were used, through {years} made years.", usable, least=least, years=YEARS)
    )
    return _told(made, origin, site, "own daily record, by its months", (*notes, short))


def _elsewhere(
    lead: Elsewhere, site: Site, choice: WeatherChoice, start: int, days: int
) -> WeatherYears:
    """Another place's days, moved by the difference between its months and those of this site."""
    whole, origin, notes = _filled(lead)
    here, note = moved(whole, record_normals(whole, origin, lead.site), own_months(site, choice))
    return _told(members(here, origin, site, start, days), origin, site,
                 ANOTHERS,
                 (*notes, *note))


def own_months(site: Site, choice: WeatherChoice) -> MonthlyNormals:
    """Twelve normals of a site: of its own record, as typed, or of the nearest station."""
    if choice.normals is not None:
        return read_normals_toml(choice.normals)
    if choice.record is not None or choice.packaged is not None:
        whole, origin, _ = _filled(Elsewhere(site, choice.record, choice.packaged))
        return record_normals(whole, origin, site)
    return normals_at(site)


def named_record(site: Site, choice: WeatherChoice) -> Elsewhere | None:
    """The daily record that a site's weather years are taken from; None where they come from normals."""
    if choice.record is not None or choice.packaged is not None:
        return Elsewhere(site, choice.record, choice.packaged)
    near = None if choice.normals is not None else record_nearby(site)
    return None if near is None else Elsewhere(site, None, near.name)


def as_read(lead: Elsewhere) -> tuple[DailySeries, Origin]:
    """A record as it is in its file."""
    return read_record(lead.record) if lead.record is not None else packaged_record(str(lead.packaged))


def _filled(lead: Elsewhere) -> tuple[DailySeries, Origin, tuple[str, ...]]:
    """A record with its gaps filled, and what was filled, in words."""
    series, origin = as_read(lead)
    whole, notes = fill_gaps(series, file=origin.file)
    return whole, origin, notes


def _told(
    weather: WeatherYears, origin: Origin, site: Site, source: str, notes: tuple[str, ...]
) -> WeatherYears:
    """The weather with where it came from in full."""
    about = replace(
        weather.origin, source=source, distance_km=_distance(site, origin),
        notes=(*weather.origin.notes, *notes),
    )
    return replace(weather, origin=about)


def _distance(site: Site, origin: Origin) -> float | None:
    if origin.lat is None or origin.lon is None:
        return None
    return float(great_circle_km(site.lat, site.lon, np.array([origin.lat]), np.array([origin.lon]))[0])


def record_nearby(site: Site) -> RecordPlace | None:
    """A packaged daily record close enough in distance and height, the nearest first."""
    places: Sequence[RecordPlace] = packaged_records()
    lats, lons = np.array([p.lat for p in places]), np.array([p.lon for p in places])
    km = great_circle_km(site.lat, site.lon, lats, lons)
    nearest = int(np.argmin(km))
    level = site.height_m is None or abs(places[nearest].height_m - site.height_m) <= NEAR_HEIGHT
    return places[nearest] if km[nearest] <= NEAR_KM and level else None


def _typed(normals: MonthlyNormals, site: Site, start: int, days: int, seed: int) -> WeatherYears:
    """Years made of the grower's own monthly figures, and how far off the place is that they say."""
    weather = generated(normals, site, start, days, YEARS, seed, None, None)
    km = great_circle_km(site.lat, site.lon, np.array([normals.lat]), np.array([normals.lon]))
    known = normals.height_m is not None and site.height_m is not None
    higher = (normals.height_m or 0.0) - (site.height_m or 0.0) if known else None
    about = replace(weather.origin, distance_km=float(km[0]), height_difference_m=higher)
    return replace(weather, origin=about)
