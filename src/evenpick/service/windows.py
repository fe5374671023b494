"""When each crop may be sown at a place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from math import inf

import numpy as np

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.clock import hasten
from evenpick.crops.crop import FRESH, Crop, Purpose, Way
from evenpick.crops.winter import has_winter, use_here
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice
from evenpick.outlook.against import MAY_WAIT
from evenpick.outlook.drying import Unwatered
from evenpick.outlook.season import OVERWINTERING, WINTER_USE
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import (
    AXIS_DAYS,
    MARGIN,
    YEAR,
    Calendar,
    Window,
    each_purpose,
    fold,
    sample_days,
    workable_ground,
)
from evenpick.service.climate import weather_for
from evenpick.service.outlook_answer import Band, FirstPicking, MonthDay, WindowRow, WindowsAnswer
from evenpick.service.seedbeds import unwatered

CORES = 2
MANY = 12  # crops: for fewer the compiled loops take longer to load than they save
LOOK = 8
"""days past a window's edge where the reason for it is read"""


def windows(
    site: Site,
    choice: WeatherChoice,
    crops: Sequence[str] | None = None,
    covers: Sequence[CoverName] = ("open", "tunnel"),
    year: int | None = None,
    seed: int = DEFAULT_SEED,
    lowest: float = inf,
    seedbed: Seedbed = LOAM,
) -> WindowsAnswer:
    """Windows of the named crops (all by default) under each cover; UnknownCrop for a name not known.
    `lowest` as of `Settings`. Of ground that can't be watered (`seedbed`) they are what the rain leaves."""
    weather = year_weather(site, choice, year, seed)
    chosen = chosen_crops(crops)
    made = calendars(chosen, covers, weather, seed, lowest, unwatered(site, seedbed))
    return windows_in(made, chosen, site, weather, seedbed)


def windows_in(
    made: Sequence[Calendar], chosen: Sequence[Crop], site: Site, weather: WeatherYears, seedbed: Seedbed
) -> WindowsAnswer:
    """The windows of chosen crops in calendars that are made."""
    rows = tuple(row for one in said_once(made, site.lat)
                 for row in window_rows(one, weather.start, site.lat))
    there = {row.crop for row in rows}
    never = tuple((crop.name, _worst(crop, made)) for crop in chosen if crop.key not in there)
    return WindowsAnswer(site, weather.origin, rows, never, seedbed.watered)


def chosen_crops(names: Sequence[str] | None) -> tuple[Crop, ...]:
    catalogue = load_catalogue()
    return catalogue.crops if not names else tuple(catalogue.crop(name) for name in names)


def year_weather(site: Site, choice: WeatherChoice, year: int | None, seed: int) -> WeatherYears:
    """Weather for a whole year of sow days, from a margin before 1 January."""
    opening = day_number(date(year or date.today().year, 1, 1)) - MARGIN
    return weather_for(site, choice, opening, AXIS_DAYS, seed)


def calendars(
    crops: Sequence[Crop], covers: Sequence[CoverName], weather: WeatherYears, seed: int,
    lowest: float = inf, ground: Unwatered | None = None,
) -> tuple[Calendar, ...]:
    """Every crop, cover, way and purpose over a year of sow days; `ground` where nobody waters."""
    return calendars_in(Settings(weather, ground, lowest), crops, covers, seed)


def calendars_in(
    settings: Settings, crops: Sequence[Crop], covers: Sequence[CoverName], seed: int
) -> tuple[Calendar, ...]:
    """As `calendars`, in settings that are wanted again; crops share the cores."""
    if len(crops) >= MANY:
        hasten()
    ground = workable_ground(settings)

    def of_crop(crop: Crop) -> list[Calendar]:
        return [
            made
            for cover in covers
            for way in crop.ways
            for made in each_purpose(crop, way, cover, _purposes(crop, way), settings, ground, seed)
        ]

    with ThreadPoolExecutor(CORES) as pool:
        return tuple(made for of_one in pool.map(of_crop, crops) for made in of_one)


def _purposes(crop: Crop, way: Way) -> list[Purpose]:
    """Nobody raises baby leaf in modules (common practice, no source)."""
    return [one for one in crop.purposes if way.name != "raised" or one.name != "baby leaf"]


def said_once(made: Sequence[Calendar], lat: float) -> Iterator[Calendar]:
    """The same, less the windows of overwintering that lie within one in which the crop is sown to be eaten
    fresh: where winters are mild it is picked through them either way. So with what is for the winter where
    there is none, if it is grown to the same size."""
    fresh = {_sown(one): one for one in made if one.outcome.purpose.name == FRESH}
    for one in made:
        alike = fresh.get(_sown(one))
        if alike is not None and _one_of_both(one, alike, lat):
            said = alike.windows
            own = (window for window in one.windows if not any(_within(window, wide) for wide in said))
            yield replace(one, windows=tuple(own))
        else:
            yield one


def _one_of_both(made: Calendar, fresh: Calendar, lat: float) -> bool:
    purpose = made.outcome.purpose
    full = not has_winter(lat) and purpose.thermal_share == fresh.outcome.purpose.thermal_share
    return purpose.name == OVERWINTERING or (purpose.name == WINTER_USE and full)


def _sown(made: Calendar) -> tuple[str, str, CoverName]:
    return made.outcome.crop.key, made.outcome.way.name, made.outcome.cover


def _within(window: Window, wide: Window) -> bool:
    """Both of a year that comes round again."""
    length = wide.closes - wide.opens + 1
    past = (window.opens - wide.opens) % YEAR
    return length >= YEAR or past + window.closes - window.opens < length


def window_rows(made: Calendar, start: int, lat: float) -> Iterator[WindowRow]:
    """The windows of one calendar as rows of an answer; `start` is the day number of axis day 0."""
    crop, outcome = made.outcome.crop, made.outcome
    for window in made.windows:
        days = [fold(day) for day in range(window.opens, window.closes + 1)]
        whole = len(days) >= YEAR
        yield WindowRow(
            crop.key, crop.name, outcome.way.name, outcome.cover, outcome.purpose.name,
            month_day(start, window.opens), month_day(start, fold(window.closes)), whole,
            float(made.score.sound[days].mean()),
            tuple(first_pickings(made, window, start)),
            "" if whole else made.score.against[fold(window.opens - LOOK)],
            "" if whole else made.score.against[fold(window.closes + LOOK)],
            use_here(outcome.purpose.name, lat, crop.bulbing is not None),
        )


def month_day(start: int, day: int) -> MonthDay:
    when = day_date(start + day)
    return when.month, when.day


def first_pickings(made: Calendar, window: Window, start: int) -> Iterator[FirstPicking]:
    for day in sample_days(window, start):
        band = band_at(made, day)
        if band is not None:
            yield FirstPicking(month_day(start, day), band)


def band_at(made: Calendar, day: int) -> Band | None:
    """Days to first picking from one sow day; None where too few years succeed."""
    low, likely, high = (float(made.score.days[p][day]) for p in (10, 50, 90))
    return Band(low, likely, high) if np.isfinite(likely) else None


def _worst(crop: Crop, made: Sequence[Calendar]) -> str:
    """What speaks against a crop's best sow day."""
    own = [one for one in made if one.outcome.crop.key == crop.key]
    best = max(own, key=lambda one: float(one.score.score.max()))
    reason = best.score.against[int(best.score.score.argmax())]
    if reason == MAY_WAIT:  # no day is better to wait for
        return "succeeds too seldom, or ripens no sooner than a later sowing"
    return reason or "succeeds too seldom"
