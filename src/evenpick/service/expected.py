"""What is to be expected of sowings under way: up, out, picked, over; and which a frost would kill."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby
from math import inf

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.here import AsHere, as_catalogued
from evenpick.crops.ways import way_of
from evenpick.garden.diary import Reading
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice
from evenpick.garden.record import Sowing
from evenpick.learn.observed import seen_days, sow_days
from evenpick.outlook.grow import dried_by, grow, parameter_draws
from evenpick.outlook.made_for import as_sown
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import SEEDLING_SHARE
from evenpick.service.by_hand import USUAL, ByHand
from evenpick.service.expectation import Dates, Expected
from evenpick.service.season_weather import season_weather, with_readings
from evenpick.service.seedbeds import unwatered
from evenpick.service.water_answer import ON_THE_DRILL, WaterDay
from evenpick.service.watered import Season, today_of, unrecorded

LEAD, AHEAD, BACK = 60, 430, 400
"""days of weather before a sowing, after the day asked and before it"""
NIGHTS = 3
"""nights ahead in which a frost counts as near"""
MOST_YEARS = 20
"""weather years, spread over those there are: a job's day needs no finer band"""
LEAST_YEARS = 0.2
"""share of years that must get to a stage for it to be expected"""

def expected(
    site: Site, choice: WeatherChoice, sowings: Sequence[Sowing], readings: Mapping[int, Reading], on: date,
    seed: int = DEFAULT_SEED, as_here: AsHere = as_catalogued, seedbed: Seedbed = LOAM,
    lowest: float = inf, hand: ByHand = USUAL,
) -> Mapping[str, Expected]:
    """By id of the sowing. `readings` are the grower's own instruments (and a forecast, where there is one)
    by day number; they stand in every weather year. What the diary saw goes before what is reckoned, and
    crops `as_here` before the catalogue's; `lowest` as of `Settings`."""
    found: dict[str, Expected] = {}
    for start in sorted({_axis(sowing, on) for sowing in sowings}):
        season = season_weather(site, choice, start, day_number(on) - start + AHEAD, {}, seed)
        settings = Settings(
            with_readings(fewer(season.weather, MOST_YEARS), readings), unwatered(site, seedbed), lowest
        )
        ground = Season(site, settings, unrecorded(settings), day_number(on) - start, seedbed,
                        hand)
        of_axis = [sowing for sowing in sowings if _axis(sowing, on) == start]
        for kind in alike(of_axis):
            here = as_here(load_catalogue().crop(kind[0].fact.crop), kind[0].cover)
            there = settings.raising(kind[0].fact.bought)
            for crop, same in of_each_type(here, kind, there):
                found |= _of_kind(same, crop, there, day_number(on) - start, seed)
            found |= {one.id: _thirsty(found[one.id], today_of(ground, here, one)) for one in kind}
    return found


def _axis(sowing: Sowing, on: date) -> int:
    """Where its weather begins: the same day for all but the oldest, so that no sowing's days hang on which
    others there are."""
    usual = day_number(on) - BACK
    began = sowing.day - sowing.before
    return usual if began >= usual + LEAD else began - LEAD


def fewer(weather: WeatherYears, most: int) -> WeatherYears:
    """At most so many of the weather years, spread evenly over them."""
    if weather.years <= most:
        return weather
    at = np.linspace(0, weather.years - 1, most).round().astype(np.int64)
    return weather.of_years(at)


def alike(sowings: Iterable[Sowing]) -> Iterator[list[Sowing]]:
    """Sowings of one crop, way and cover together, bought plants by themselves."""
    def kind(sowing: Sowing) -> tuple[str, str, str, bool]:
        return sowing.fact.crop, sowing.fact.way, sowing.cover, sowing.fact.bought

    for _, same in groupby(sorted(sowings, key=kind), key=kind):
        yield list(same)


def of_each_type(
    crop: Crop, kind: Sequence[Sowing], settings: Settings
) -> Iterator[tuple[Crop, list[Sowing]]]:
    """Sowings of one crop, way and cover, by what they were made for."""
    sow, way = sow_days(crop, kind, settings), way_of(crop, kind[0].fact.way)
    for one, places in as_sown(crop, way, kind[0].cover, settings, sow):
        yield one, [kind[i] for i in places]


def _of_kind(
    kind: Sequence[Sowing], crop: Crop, settings: Settings, today: int, seed: int
) -> dict[str, Expected]:
    cover, way = kind[0].cover, way_of(crop, kind[0].fact.way)
    start, sow = settings.weather.start, sow_days(crop, kind, settings)
    factor = parameter_draws(crop, settings.weather.years, seed)
    seen = replace(seen_days(kind, start), alive=np.full(sow.size, today))
    outcome = grow(crop, way, cover, settings, sow, factor, crop.purposes[0], seen)
    dried = dried_by(today, crop, way, cover, settings, sow, seen)
    night = settings.cover(cover).air.tmin[:, today : today + NIGHTS].min(axis=1)
    return {sowing.id: _one(outcome, i, crop, night, start, today, float(dried[i]))
            for i, sowing in enumerate(kind)}


def _thirsty(expect: Expected, day: WaterDay | None) -> Expected:
    if day is None:
        return expect
    drill = day.phase in ON_THE_DRILL
    return replace(expect, thirst=day.share, litres=day.per_metre if drill else 0.0,
                   per_m2=0.0 if drill else day.per_m2, thirst_why=day.why)


def _one(
    outcome: Outcome, i: int, crop: Crop, night: Floats, start: int, today: int, dried: float
) -> Expected:
    lives = (outcome.fate[:, i] == Fate.GOOD) | (outcome.fate[:, i] == Fate.HEAT)
    up, place, never = outcome.up[:, i], outcome.place[:, i], outcome.never
    out = _dates(place, place < never, start) if outcome.way.name == "raised" else None
    first = _dates(outcome.first[:, i], lives, start)
    kill = _killed_below(crop, today + start, out or _dates(up, up < never, start), first)
    return Expected(
        _dates(up, up < never, start), out, first, _dates(outcome.last[:, i], lives, start),
        float(lives.mean()), kill, float((night < kill).mean()), 0.0, 0.0, 0.0, "", dried,
    )


def _killed_below(crop: Crop, today: int, placed: Dates | None, first: Dates | None) -> float:
    """A seedling's limit in its youth, the edible part's once that is there, the plant's between."""
    if first is None or placed is None:
        return crop.limits.kill_seedling
    began, ripe = day_number(placed[1]), day_number(first[1])
    if today >= ripe:
        return crop.limits.kill_edible
    young = today < began + SEEDLING_SHARE * (ripe - began)
    return crop.limits.kill_seedling if young else crop.limits.kill_plant


def _dates(days: NDArray[np.int16], counted: Bools, start: int) -> Dates | None:
    if counted.mean() < LEAST_YEARS:
        return None
    low, likely, high = np.quantile(days[counted].astype(np.float64), (0.1, 0.5, 0.9))
    return day_date(start + round(low)), day_date(start + round(likely)), day_date(start + round(high))
