"""The ensemble of weather years: from a record or from normals (docs/design/weather.md, rules D and M)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date, day_number, month_day
from evenpick.base.errors import BadRequest, BadWeatherFile, Problem
from evenpick.base.language import later, tell, tell_n
from evenpick.climate.around import normals_at
from evenpick.climate.gaps import usable_starts
from evenpick.climate.generator import generate
from evenpick.climate.moist_air import saturation_pressure
from evenpick.climate.normals import MonthlyNormals
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.radiation import fill_radiation
from evenpick.climate.seasonal import cycle, cycle_days, month_means, positive_cycle
from evenpick.climate.series import DailySeries, Origin
from evenpick.climate.site import Site
from evenpick.climate.stations import nearest_station
from evenpick.climate.trend import remove_trend
from evenpick.climate.weather import NEEDED, WeatherYears

RAIN_RATIO = (0.5, 2.0)
NEIGHBOUR_KM = 300.0
GENERATED_NOTE = (
    later("Weather years were made from twelve monthly normals: the longest dry spells can come out a "
          "third too short; a daily record of your own is better.")
)


def members(
    series: DailySeries,
    origin: Origin,
    site: Site,
    start: int,
    days: int,
    *,
    present: bool = True,
) -> WeatherYears:
    """Every start year of a daily record as a member of `days` consecutive real days.

    A member begins on the month and day of `start` (29 February: 28 February in a common year) and is
    labelled with its start year. A year that meets a hole (`gaps.usable_starts`) is left out and counted.
    With `present` the trend in temperature is removed first (`remove_trend`). Radiation is filled where it
    is missing. Raises ValueError where a member would hold a missing tmin, tmax or rain (fill gaps first),
    and BadWeatherFile where not a single member lies whole in the record.
    """
    series, trend_notes = remove_trend(series, day_date(start).year) if present else (series, ())
    series, light_notes = fill_radiation(series, site.lat)
    inside = member_starts(series, start, days)
    first_days = inside[usable_starts(series, inside, days)]
    if not first_days.size:
        raise BadWeatherFile(_too_short(series, origin, start, days))
    holes = _left_out(inside.size - first_days.size)
    rows = (first_days - series.start)[:, None] + np.arange(days)
    series, damp_notes = _possible_damp(series)
    columns = {name: getattr(series, name)[rows] for name in NEEDED}
    for name, values in columns.items():
        if np.isnan(values).any():
            raise ValueError(f"{name} has missing days in a member: fill the gaps before making members")
    return WeatherYears(
        site.lat, start, **columns, labels=tuple(str(day_date(day).year) for day in first_days),
        origin=_record_origin(
            series, origin, site, (*origin.notes, *trend_notes, *light_notes, *damp_notes, *holes)
        ),
        **_measured_air(series, rows),
    )


def _possible_damp(series: DailySeries) -> tuple[DailySeries, tuple[str, ...]]:
    """The record without damp that the day's warmest air can't hold, and of how many days that was."""
    over = series.vapour_pressure > saturation_pressure(series.tmax)
    if not over.any():
        return series, ()
    told = tell_n("Vapour pressure of {n} day is more than its air can hold and was not used.",
                  "Vapour pressure of {n} days is more than their air can hold and was not used.",
                  int(over.sum()))
    return replace(series, vapour_pressure=np.where(over, np.nan, series.vapour_pressure)), (told,)


def _measured_air(series: DailySeries, rows: Ints) -> dict[str, Floats]:
    """Vapour pressure and wind of the record's `rows`, each where it has any; no wind without the other."""
    damp, wind = series.vapour_pressure[rows], series.wind[rows]
    if np.isnan(damp).all():
        return {}
    return {"vapour_pressure": damp} if np.isnan(wind).all() else {"vapour_pressure": damp, "wind": wind}


def member_starts(series: DailySeries, start: int, days: int) -> Ints:
    """Day numbers on which a member begins: one a year, on the month and day of `start`, wholly inside."""
    begin, end = series.start, series.start + series.days
    years = range(day_date(begin).year, day_date(end).year + 1)
    starts = np.array([_same_day(start, year) for year in years], dtype=np.int64)
    return starts[(starts >= begin) & (starts <= end - days)]


def generated(
    normals: MonthlyNormals,
    site: Site,
    start: int,
    days: int,
    years: int,
    seed: int,
    distance_km: float | None,
    height_difference: float | None,
) -> WeatherYears:
    """Weather years by the generator; a distance of None says that the grower typed the normals.

    years: members wanted (60 and more; at 30 the edges of windows still move by days with the seed).
    Another seed gives years that share nothing with these. Normals that do not say how much temperatures
    stray borrow that from the nearest packaged station, where one stands within 300 km.
    """
    normals, borrowed = with_spread(normals)
    tmin, tmax, rain, radiation = generate(normals, site.lat, start, days, years, seed)
    origin = ClimateOrigin(
        "typed normals" if distance_km is None else "station normals", normals.name, distance_km,
        height_difference, normals.years, normals.licence, (*normals.notes, *borrowed, tell(GENERATED_NOTE)),
        years,
    )
    labels = tuple(f"made {number}" for number in range(1, years + 1))
    return WeatherYears(site.lat, start, tmin, tmax, rain, radiation, labels, origin)


def generated_at(site: Site, start: int, days: int, years: int, seed: int) -> WeatherYears:
    """The same of the months that the packaged stations around a site give it."""
    _, distance, higher = nearest_station(site)
    return generated(normals_at(site), site, start, days, years, seed, distance, higher)


def with_spread(normals: MonthlyNormals) -> tuple[MonthlyNormals, tuple[str, ...]]:
    """The normals with the daily and the between-year sd of the nearest station where they have none, and
    with its drop to the month's lowest minimum, which is drawn from others where it reports none.

    Within 300 km the logarithm of either differs from a neighbour's by 0.3 (rms over the packaged stations;
    builders/variability.py), against 0.37 for the regression that stands in farther away.
    """
    if normals.sd_daily_tmean is not None:
        return normals, ()
    station, distance, _ = nearest_station(Site(normals.name, normals.lat, normals.lon, normals.height_m))
    if distance > NEIGHBOUR_KM or station.sd_daily_tmean is None:
        return normals, ()
    between, drop = normals.interannual_sd_tmean, normals.drop_to_lowest
    if drop is None:
        drop = normals_at(Site(station.name, station.lat, station.lon, station.height_m)).drop_to_lowest
    note = tell("How much temperatures stray was taken from {station}, {distance:.0f} km away.",
                station=station.name, distance=distance)
    return replace(
        normals, sd_daily_tmean=station.sd_daily_tmean,
        interannual_sd_tmean=station.interannual_sd_tmean if between is None else between,
        drop_to_lowest=drop,
    ), (note,)


def moved(
    series: DailySeries, from_normals: MonthlyNormals, to_normals: MonthlyNormals
) -> tuple[DailySeries, tuple[str, ...]]:
    """A nearby record moved by the difference in normals, and what was done, in words.

    Minimum and maximum each by the monthly difference, smoothly over the year; rain by the monthly ratio
    within 0.5 to 2 (number of wet days unchanged). Where the move would cross minimum and maximum the
    day's mean stands for both. Sunshine, measured radiation, relative humidity and wind stay.
    """
    at = cycle_days(series.start, series.days)
    cooler, warmer = to_normals.tmin - from_normals.tmin, to_normals.tmax - from_normals.tmax
    wetter = _rain_ratio(from_normals.rain_mm, to_normals.rain_mm)
    tmin, tmax = series.tmin + cycle(cooler)[at], series.tmax + cycle(warmer)[at]
    middle, crossed = (tmin + tmax) / 2, tmin > tmax
    rain = series.rain * np.clip(positive_cycle(wetter), *RAIN_RATIO)[at]
    note = tell(
        "The record of {before} was moved to {after}: minimum {cooler:+.1f} °C, maximum {warmer:+.1f} °C, "
        "rain × {wetter:.2f} over the year",
        before=from_normals.name, after=to_normals.name, cooler=_mean(cooler), warmer=_mean(warmer),
        wetter=_mean(wetter),
    )
    met = tell_n("; minimum and maximum met on {n} day.", "; minimum and maximum met on {n} days.",
                 int(crossed.sum()))
    crossing = met if crossed.any() else "."
    here = series.with_warmth(np.where(crossed, middle, tmin), np.where(crossed, middle, tmax))
    return replace(here, rain=rain), (note + crossing,)


def split_unseen(
    weather: WeatherYears, share: float = 1 / 3, block: int = 5
) -> tuple[WeatherYears, WeatherYears, tuple[str, ...]]:
    """(planning, unseen, notes): members of a real record to plan on, and others to measure the plan on.

    Unseen are whole blocks of `block` consecutive start years spread over the record, about `share` of
    all. A planning member that holds a single day of an unseen one is dropped, and the notes say how many.
    Raises BadRequest where nothing is left to plan on or to measure with; ValueError for generated
    weather, whose unseen years come from another seed.
    """
    unseen = _spread_blocks(weather.years, share, block)
    planning = sharing_no_day(weather, unseen)
    dropped = int((~unseen & ~planning).sum())
    if not planning.any() or not unseen.any():
        raise BadRequest(
            Problem(
                tell_n("{n} weather year of {days} days is too little to keep some unseen.",
                       "{n} weather years of {days} days are too few to keep some unseen.", weather.years,
                       days=weather.days),
                tell("Use a longer record, smaller blocks, or generated weather."),
            )
        )
    note = tell_n(
        "Weather years are kept unseen in blocks of {block}; {n} was dropped because it shares days with "
        "unseen ones.",
        "Weather years are kept unseen in blocks of {block}; {n} were dropped because they share days with "
        "unseen ones.", dropped, block=block,
    )
    return weather.of_years(planning), weather.of_years(unseen), (note,)


def sharing_no_day(weather: WeatherYears, unseen: Bools) -> Bools:
    """Members of a real record that hold no day of any of the `unseen` ones; both (years,)."""
    begins = np.array([_same_day(weather.start, _start_year(label)) for label in weather.labels])
    near = np.abs(begins[:, None] - begins[unseen][None, :]) < weather.days
    return np.asarray(~near.any(axis=1))


def _same_day(start: int, year: int) -> int:
    """The day number of `start`'s month and day in another year; 29 February falls back to the 28th."""
    when = day_date(start)
    try:
        return day_number(when.replace(year=year))
    except ValueError:
        return day_number(date(year, 2, 28))


def _left_out(count: int) -> tuple[str, ...]:
    told = tell_n("{n} weather year was left out because the record has a hole in it.",
                  "{n} weather years were left out because the record has a hole in them.", count)
    return (told,) if count else ()


def _too_short(series: DailySeries, origin: Origin, start: int, days: int) -> Problem:
    first, last = day_date(series.start), day_date(series.start + series.days - 1)
    return Problem(
        tell("no stretch of {days} days from {start} is whole in the record ({first} to {last}).", days=days,
             start=month_day(start), first=first, last=last),
        tell("Use a longer record, or monthly normals."),
        file=origin.file,
    )


def _record_origin(
    series: DailySeries, origin: Origin, site: Site, notes: tuple[str, ...]
) -> ClimateOrigin:
    higher = None
    if origin.height_m is not None and site.height_m is not None:
        higher = origin.height_m - site.height_m
    years = day_date(series.start + series.days).year - day_date(series.start).year
    station, licence = origin.station or origin.file, origin.licence or ""
    return ClimateOrigin("own daily record", station, None, higher, max(years, 1), licence, notes)


def _rain_ratio(here: Floats, there: Floats) -> Floats:
    """Monthly ratio within bounds; a month without rain in the record's own normals has nothing to scale."""
    ratio = np.divide(there, here, out=np.ones(12), where=here > 0)
    return np.asarray(np.clip(ratio, *RAIN_RATIO))


def _mean(monthly: Floats) -> float:
    return float(month_means(cycle(monthly)).mean())


def _start_year(label: str) -> int:
    if not label.isdecimal():
        raise ValueError(f"'{label}' is no start year: generated weather takes another seed for unseen years")
    return int(label)


def _spread_blocks(count: int, share: float, block: int) -> Bools:
    """Which of `count` members are unseen: block i where i × share steps to a next whole number."""
    number: Ints = np.arange(count) // block
    return np.asarray(np.floor((number + 1) * share + 1e-9) > np.floor(number * share + 1e-9))
