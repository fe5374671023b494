"""What becomes of one crop sown on one day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from math import inf

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem, UnknownCrop, did_you_mean
from evenpick.base.language import tell
from evenpick.base.trade import COVERS, CoverName
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop, Purpose, Way
from evenpick.crops.here import AsHere, as_catalogued
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice
from evenpick.outlook.grow import grow, parameter_draws
from evenpick.outlook.outcome import Fate, Outcome, fate_word
from evenpick.outlook.over_years import quantiles
from evenpick.outlook.score import succeeded
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import fold
from evenpick.service.best_for import best_of, for_each_purpose, main_purposes
from evenpick.service.climate import weather_for
from evenpick.service.outlook_answer import Band, DrillDries, OutlookAnswer
from evenpick.service.season_weather import with_fetched
from evenpick.service.seedbeds import drill_dries, unwatered
from evenpick.service.windows import year_weather

LEAD = 60
"""days of weather before the sowing, so that soil and cover are not cold-started"""
FOLLOWED = 480
"""days of weather after it"""


@dataclass(frozen=True, slots=True)
class Asked:
    """One crop, way, purpose and cover, chosen from words."""

    crop: Crop
    way: Way
    purpose: Purpose
    cover: CoverName


def asked(crop: str, cover: str, way: str | None, purpose: str | None) -> Asked:
    """The crop and how it is grown; its first way and purpose unless named. Raises UnknownCrop."""
    found = load_catalogue().crop(crop)
    if cover not in COVERS:
        raise UnknownCrop(_not_one_of("cover", cover, COVERS))
    ways = {one.name: one for one in found.ways}
    if way is not None and way not in ways:
        raise UnknownCrop(_not_one_of(tell("way of starting {name}", name=found.told), way, tuple(ways)))
    purposes = {one.name: one for one in found.purposes}
    if purpose is not None and purpose not in purposes:
        raise UnknownCrop(_not_one_of(tell("purpose of {name}", name=found.told), purpose, tuple(purposes)))
    chosen_way = found.ways[0] if way is None else ways[way]
    chosen = found.purposes[0] if purpose is None else purposes[purpose]
    return Asked(found.grown_for(chosen), chosen_way, replace(chosen, type=None), cover)


def _not_one_of(what: str, word: str, known: tuple[str, ...]) -> Problem:
    return Problem(
        f"'{word}' is no {what}. {did_you_mean(word, known)}".rstrip(), tell(
                        "Write one of: {known}.", known=", ".join(known))
    )


def outlook(
    site: Site,
    choice: WeatherChoice,
    crop: str,
    sow: date,
    cover: str = "open",
    way: str | None = None,
    purpose: str | None = None,
    seed: int = DEFAULT_SEED,
    seedbed: Seedbed = LOAM,
    lowest: float = inf,
    as_here: AsHere = as_catalogued,
) -> OutlookAnswer:
    """Days to emergence, first and last picking with their bands, and the share of each fate, for what the
    day is best for unless a purpose is named. Drills count as watered by the routine, or where that can't be
    (`seedbed`) as lost in the years in which they dry out. What is raised has a bench
    kept above `lowest` °C, or what its way asks if that is less. It grows `as_here`, by what the garden's
    diary taught; what the day is best for is the catalogue's."""
    want = asked(crop, cover, way, purpose)
    if not 1900 <= sow.year <= 2200:
        raise BadRequest(Problem(tell("the sow date {sow} is out of reach.",
                                      sow=sow), tell("Give a year from 1900 to 2200.")))
    if purpose is None:
        want = asked(crop, cover, way, _best_for(site, choice, want, sow, seed, lowest, seedbed))
    weather = weather_for(site, choice, day_number(sow) - LEAD, LEAD + FOLLOWED, seed)
    weather, _ = with_fetched(weather, site, choice)
    grown = as_here(want.crop, want.cover)
    factor = parameter_draws(grown, weather.years, seed)
    settings = Settings(weather, unwatered(site, seedbed), lowest)
    outcome = grow(grown, want.way, want.cover, settings, np.array([LEAD]), factor, want.purpose)
    return OutlookAnswer(
        site, weather.origin, want.crop.key, want.crop.name, want.way.name, want.cover,
        want.purpose.name, sow,
        emergence=_band(outcome, outcome.up, (outcome.up < outcome.never) & (outcome.fate != Fate.DRIED)),
        planting_out=_planting(outcome), first_picking=_band(outcome, outcome.first, _lived(outcome)),
        last_picking=None if outcome.crop.harvest.years else _band(outcome, outcome.last, _lived(outcome)),
        fates=fates(outcome),
        members=weather.years, drill=_drill(outcome, settings, site, seedbed),
        own_time=grown.thermal_time / want.crop.thermal_time,
        cut_short=float(((outcome.fate == Fate.GOOD) & ~succeeded(outcome)).mean()),
    )


def _best_for(
    site: Site, choice: WeatherChoice, want: Asked, sow: date, seed: int, lowest: float, seedbed: Seedbed
) -> str:
    """The purpose that the day is best for; the crop's first where it has but one for the whole crop."""
    crop = load_catalogue().crop(want.crop.key)
    if len(main_purposes(crop)) < 2:
        return crop.purposes[0].name
    weather = year_weather(site, choice, sow.year, seed)
    every = for_each_purpose(crop, want.way, want.cover, weather, seed, lowest, unwatered(site, seedbed))
    return best_of(every, fold(day_number(sow) - weather.start)).outcome.purpose.name


def _drill(outcome: Outcome, settings: Settings, site: Site, seedbed: Seedbed) -> DrillDries | None:
    if outcome.way.name != "direct":
        return None
    return DrillDries(seedbed.soil, *drill_dries(outcome, settings, site, seedbed.soil), seedbed.watered)


def _lived(outcome: Outcome) -> Bools:
    return np.asarray((outcome.fate == Fate.GOOD) | (outcome.fate == Fate.HEAT))


def _planting(outcome: Outcome) -> Band | None:
    if outcome.way.name != "raised":
        return None
    return _band(outcome, outcome.place, outcome.place < outcome.never)


def _band(outcome: Outcome, day: np.ndarray, counted: Bools) -> Band | None:
    """Days from sowing over the years that count; None where fewer than one in five do."""
    days: Floats = np.where(counted, day.astype(np.float64) - outcome.sow, np.nan)
    found = quantiles(days)
    low, likely, high = (float(found[p][0]) for p in (10, 50, 90))
    return Band(low, likely, high) if np.isfinite(likely) else None


def fates(outcome: Outcome) -> tuple[tuple[str, float], ...]:
    """Share of years by what becomes of the sowing; every fate is named, and they sum to 1."""
    return tuple((fate_word(outcome.crop, fate), float((outcome.fate == fate).mean())) for fate in Fate)
