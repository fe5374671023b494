"""A sowing's water from a day on: told once, for the page Water and for the jobs of Today (record.md, R12;
docs/design/water.md)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date
from evenpick.base.trade import CoverName, WayName
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.ways import way_of
from evenpick.garden.diary import Watered
from evenpick.garden.garden import Seedbed
from evenpick.garden.record import Record, Sowing
from evenpick.learn.observed import seen_days
from evenpick.outlook.grow import parameter_draws
from evenpick.outlook.setting import Settings
from evenpick.service.by_hand import USUAL, ByHand, Pot
from evenpick.service.outlook import Asked
from evenpick.service.seedbeds import nobody_waters
from evenpick.service.water import LEAD
from evenpick.service.water_answer import WaterDay
from evenpick.service.water_course import Sown, course, strips
from evenpick.service.water_days import Course, due_days
from evenpick.soil.texture import Soil, soil_named


@dataclass(frozen=True, slots=True)
class Season:
    """What every sowing of a garden shares as at one day."""

    site: Site
    settings: Settings
    recorded: Bools
    """axis days whose weather was measured; (days,)"""
    today: int
    """axis day"""
    seedbed: Seedbed
    """whether its ground is watered"""
    hand: ByHand = USUAL

    @property
    def soil(self) -> Soil:
        return soil_named(self.seedbed.soil)

    @property
    def start(self) -> int:
        """Day number of the axis's first day."""
        return self.settings.weather.start


@dataclass(frozen=True, slots=True)
class Followed:
    want: Asked
    course: Course
    start: int
    """day number of its course's first day"""
    days: tuple[WaterDay, ...]


def wanted(crop: Crop, cover: CoverName, way: WayName) -> Asked:
    """A crop as it is here, begun that way under that cover, be it a way that the catalogue does not know, as
    of bought plants of what is sown in place."""
    purpose = replace(load_catalogue().crop(crop.key).purposes[0], type=None)
    return Asked(crop, way_of(crop, way), purpose, cover)


def followed(
    season: Season, want: Asked, sow: int, diary: Sequence[Sowing], count: int, pot: Pot | None = None
) -> Followed:
    """What is sown on day number `sow`, in a pot or in a bed, with what the `diary` saw of it, told for
    `count` days from today."""
    at, settings = sow - season.start, season.settings
    first = max(at - LEAD, 0)
    factor = parameter_draws(want.crop, settings.weather.years, DEFAULT_SEED)
    seen = replace(seen_days(diary, season.start), alive=np.full(1, season.today)) if diary else None
    sown = Sown(want, at, factor, seen, not nobody_waters(season.seedbed, want.cover),
                season.hand.gone(season.start, settings.weather.days), pot)
    made = course(sown, settings, season.site, season.soil, slice(first, season.today + count))
    told = due_days(made, season.recorded[first:], season.today - first, count, _day(season), strips(want))
    return Followed(want, made, season.start + first, told)


def today_of(season: Season, crop: Crop, one: Sowing) -> WaterDay | None:
    """The day of what stands in its place, as Water tells it; None of what is on the bench."""
    if one.on_bench:
        return None
    pot = season.hand.pot(one.ground, one.cover, one.area, crop.spacing)
    return followed(season, wanted(crop, one.cover, one.fact.way), one.day, [one], 1, pot).days[0]


def last_watered(one: Sowing, record: Record, on: int, hand: ByHand) -> date | None:
    """The day, up to day number `on`, on which the diary has it or its ground watered last."""
    days = [
        entry.day for entry in record.entries
        if isinstance(entry.fact, Watered) and one.day <= entry.day <= on
        and (entry.fact.sowing == one.id
             or (entry.fact.sowing is None and hand.reaches(entry.fact.ground, one.ground, one.cover)))
    ]
    return day_date(max(days)) if days else None


def unrecorded(settings: Settings) -> Bools:
    """No axis day measured: for who does not tell it."""
    return np.zeros(settings.weather.days, dtype=bool)


def _day(season: Season) -> date:
    return day_date(season.today + season.start)
