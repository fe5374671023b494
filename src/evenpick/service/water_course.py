"""A sowing's water over its season: its drill, or the ground it is planted into, then the bed (water.md)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.crops.crop import Way
from evenpick.outlook.drying import damp_and_wind
from evenpick.outlook.grow import drinks_until, grow
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.rain_fed import YEAR, between_crops, left_to_rain
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import Seen
from evenpick.service.by_hand import Pot
from evenpick.service.outlook import Asked
from evenpick.service.seedbeds import BAND, drawn, lost_dry
from evenpick.service.water_answer import StepWorth
from evenpick.service.water_days import LIKELY, Course, Strips
from evenpick.soil.crop_coefficients import CropWater, crop_water, growing, in_pot
from evenpick.soil.seedbed import AFTER, Watering, bed_of, days_moist, dry_spell, routine
from evenpick.soil.texture import Soil
from evenpick.soil.water_balance import Away, adjusted_kcb, balance, kc_max, least_humidity, never_away

HELD_BACK = 0.5
"""of what it can't take easily that a crop sown in place goes without in its youth: Ks falls to a half, and
roots go down after the water (common practice; the figure has no source)"""
SLIPS = frozenset({"sweet-potato"})
"""planted without roots, and without the water that sets, cloves and tubers hold: kept moist until they have
taken (common practice, no source)"""
STEPS: tuple[tuple[Watering, str], ...] = (
    (Watering.NONE, "not watered"),
    (Watering.DRILL, "the open drill watered before sowing"),
    (Watering.MOIST, "and kept moist until it is up"),
    (Watering.ONE_MORE, "and once more when it is up"),
)


@dataclass(frozen=True, slots=True)
class Sown:
    """A sowing on the axis of some weather."""

    want: Asked
    at: int
    """axis day on which it is sown or set"""
    factor: Floats
    """on its thermal time; (years, 1)"""
    seen: Seen | None = None
    """when it was seen to be up and was planted out"""
    watered: bool = True
    """by the routine; else nobody waters it"""
    away: Away | None = None
    """when nobody is there to water, over the axis"""
    pot: Pot | None = None
    """what it stands in; None in a bed"""


@dataclass(frozen=True, slots=True)
class Ground:
    """What reaches and leaves the ground under a cover; every array (years, days)."""

    rain: Floats
    et0: Floats
    rh_min: Floats
    wind: Floats

    def over(self, here: slice) -> Ground:
        """Some of its days."""
        return Ground(self.rain[:, here], self.et0[:, here], self.rh_min[:, here], self.wind[:, here])


def strips(want: Asked) -> Strips:
    space = want.crop.spacing
    plant = space.row * space.in_row if space.layout == "station" else None
    return Strips(min(BAND, space.row), space.row, plant)


def course(sown: Sown, settings: Settings, site: Site, soil: Soil, span: slice | None = None) -> Course:
    """The season in every year; of the axis days `span` alone, numbered from its start, if it is given."""
    want, here = sown.want, span or slice(0, settings.weather.days)
    outcome = _outcome(sown, settings)
    begin, up = _begin(want.way, outcome)
    ground = _ground(sown, settings, site, begin)
    plant = crop_water(want.crop.key)
    first, last = outcome.first.astype(np.int64), outcome.last.astype(np.int64)
    end = _end(outcome, begin, plant, last)
    drinks = end if sown.watered else _end(outcome, begin, plant, drinks_until(outcome.crop, first, last))
    kcb = _adjusted(plant, ground, begin, drinks)
    ground = ground.over(here)
    begin, up, end, drinks = (day - here.start for day in (begin, up, end, drinks))
    days = ground.rain.shape[1]
    bed = bed_of(soil, want.crop.spacing.depth)
    step = _routine(sown)
    away = never_away(days) if sown.away is None else sown.away.over(here)
    drill = routine(ground.rain, ground.et0, begin, up, bed, step, away.on)
    crop = growing(plant, begin, up, end, days, *kcb)
    if not sown.watered:
        crop = left_to_rain(plant, begin, up, drinks, days, *kcb)
    if sown.pot is not None:
        crop = in_pot(crop, sown.pot.depth, sown.pot.share, soil)
    held = None if sown.watered else _held(settings, want.cover, plant, here.start)
    kcmax = kc_max(ground.wind, ground.rh_min, crop.height, crop.kcb)
    axis = np.arange(days)[None, :]
    young = plant.stages[0] if want.way.name == "direct" and sown.pot is None else 0.0
    rooted = np.maximum(begin + np.ceil(young * (end - begin)).astype(np.int64), up)
    stands = (axis > up[:, None]) & (axis <= end[:, None])
    drunk = stands & (axis <= drinks[:, None])
    due = stands & sown.watered
    let_go = np.where(due, np.where(axis <= rooted[:, None], HELD_BACK, 0.0), np.inf)
    poured = np.where(away.on, 0.0, drill.watered) * strips(want).share
    made = balance(ground.rain, ground.et0, kcmax, crop, plant.p, soil, poured, let_go,
                   vary_p=sown.pot is None, from_share=LIKELY, start=held, away=away)
    fallen = settings.cover(want.cover).air.rain[:, here]
    return Course(
        want.way.name, fallen, ground.et0, begin, up, rooted, end, outcome.never - here.start, bed, drill,
        made, np.where(drunk, crop.kcb * ground.et0 + made.evaporation, 0.0), sown.watered,
        float((outcome.fate[:, 0] == Fate.DRIED).mean()), away.after, sown.pot,
    )


def _held(settings: Settings, cover: CoverName, plant: CropWater, start: int) -> tuple[Floats, Floats]:
    """De and Dr of ground that nobody waters, on the evening before axis day `start`: as of crops before this
    one, and of the day a year on where the axis begins with it."""
    if settings.unwatered is None:
        raise ValueError("ground that is left to the rain wants settings of such ground")
    before = between_crops(settings, cover, settings.unwatered, plant)
    evening = (start or min(YEAR, before.root.shape[1])) - 1
    return before.surface[:, evening], before.root[:, evening]


def _routine(sown: Sown) -> Watering:
    """How far the ground is watered: drills and slips until they are up, other plants as they are set."""
    if not sown.watered:
        return Watering.NONE
    moist = sown.want.way.name == "direct" or sown.want.crop.key in SLIPS
    return Watering.ONE_MORE if moist else Watering.DRILL


def steps_worth(sown: Sown, settings: Settings, site: Site, soil: Soil) -> tuple[StepWorth, ...]:
    """Each step of the routine over weather years, none of them this season."""
    want, outcome = sown.want, _outcome(sown, settings)
    sow, up = _begin(want.way, outcome)
    ground = _ground(sown, settings, site, sow)
    bed, band = bed_of(soil, want.crop.spacing.depth), strips(want).band
    worth = []
    for watering, words in STEPS:
        drill = routine(ground.rain, ground.et0, sow, up, bed, watering)
        holds = float(np.median(days_moist(drill.dry, up, AFTER)))
        poured = float(np.median(drill.watered.sum(axis=1)))
        lost = lost_dry(want.crop, want.cover, sown.at, settings, site, soil, watering)
        often = float(dry_spell(drill.dry, sow, up).mean())
        worth.append(StepWorth(words, often, lost, holds, poured * band))
    return tuple(worth)


def _ground(sown: Sown, settings: Settings, site: Site, begin: Ints) -> Ground:
    cover = sown.want.cover
    air = settings.cover(cover).air
    rain, et0 = drawn(settings, cover, site, slice(0, settings.weather.days), begin)
    ea, wind = damp_and_wind(air, cover)
    return Ground(rain, et0, least_humidity(ea, air.tmax), np.broadcast_to(wind, et0.shape))


def _outcome(sown: Sown, settings: Settings) -> Outcome:
    want = sown.want
    return grow(
        want.crop, want.way, want.cover, settings, np.array([sown.at]), sown.factor, want.purpose, sown.seen
    )


def _begin(way: Way, outcome: Outcome) -> tuple[Ints, Ints]:
    """The day it goes into this ground and the day it stands there; (years,)."""
    up = outcome.up[:, 0].astype(np.int64)
    if way.name == "raised":
        planted = outcome.place[:, 0].astype(np.int64)
        return planted, planted
    return np.full_like(up, outcome.sow[0]), up


def _end(outcome: Outcome, begin: Ints, plant: CropWater, days: Ints) -> Ints:
    """The last picking, or what else its `days` (years, 1) are; in years without a harvest the middle of the
    others, or the length that table 11 has."""
    lived = (outcome.fate[:, 0] == Fate.GOOD) | (outcome.fate[:, 0] == Fate.HEAT)
    last = days[:, 0].astype(np.float64)
    usual = np.median((last - begin)[lived]) if lived.any() else plant.season
    return np.asarray(np.where(lived, last, begin + usual), dtype=np.int64)


def _adjusted(plant: CropWater, ground: Ground, begin: Ints, end: Ints) -> tuple[Floats, Floats]:
    """Kcb of middle and late season by the air of the season's days (equation 70); (years,) each."""
    days = np.arange(ground.rh_min.shape[1])[None, :]
    grows = (days >= begin[:, None]) & (days <= end[:, None])

    def mean_of(values: Floats) -> Floats:
        return np.asarray(np.where(grows, values, 0.0).sum(axis=1) / np.maximum(grows.sum(axis=1), 1))

    wind, humidity = mean_of(ground.wind), mean_of(ground.rh_min)

    def for_season(kcb: float) -> Floats:
        return adjusted_kcb(kcb, wind, humidity, plant.height)

    return for_season(plant.kcb_mid), for_season(plant.kcb_end)
