"""Crops grown through the weather years: those a plan may sow, and those that stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.climate.ensemble import split_unseen
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.clock import hasten
from evenpick.crops.crop import EARLY, Crop
from evenpick.crops.here import AsHere
from evenpick.garden.garden import Garden
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import workable_ground
from evenpick.plan.hands import HERE, Hands, idle
from evenpick.plan.horizon import Horizon
from evenpick.plan.luck import best_emerged
from evenpick.plan.options import NO_PLAN, Batch, Kind, batches
from evenpick.plan.pots import in_pots
from evenpick.plan.standing import GoodStand, Grown, Standing, in_good_stand, thinned
from evenpick.service.learning import as_kept
from evenpick.service.seedbeds import unwatered
from evenpick.service.standing import UnderWay, fixed_standing


@dataclass(frozen=True, slots=True)
class Split:
    """Ensemble members to plan on and to measure on."""

    seen: Ints
    unseen: Ints
    notes: tuple[str, ...]


def split_members(weather: WeatherYears, years: int) -> Split:
    """Members to plan on, at most `years`, and members that the plan never sees.

    A record is split in blocks so that no day is shared; generated members are independent.
    """
    if weather.labels[0].isdecimal():
        seen_weather, unseen_weather, notes = _split_record(weather)
        place = {label: number for number, label in enumerate(weather.labels)}
        seen = np.array([place[label] for label in seen_weather.labels])
        unseen = np.array([place[label] for label in unseen_weather.labels])
    else:
        half = weather.years // 2
        seen, unseen = np.arange(half), np.arange(half, weather.years)
        notes = ()
    if seen.size > years:
        seen = seen[np.linspace(0, seen.size - 1, years).round().astype(np.int64)]
    return Split(seen, unseen, notes)


def _split_record(weather: WeatherYears) -> tuple[WeatherYears, WeatherYears, tuple[str, ...]]:
    """One long block of unseen years: members two years long share days across every block's edge."""
    return split_unseen(weather, block=max(1, weather.years // 3))


def standing_well(
    season: UnderWay, since: WeatherYears, horizon: Horizon, split: Split, garden: Garden
) -> list[GoodStand]:
    """Everything in the ground, and what was fixed to be sown, grown through the years in good stands."""
    hasten()
    settings = Settings(since, unwatered(garden.site, garden.seedbed), garden.lowest)
    groups = (split.seen, split.unseen)
    several = (*season.standing, *fixed_standing(season.decided.fixed))
    catalogue, as_here = load_catalogue(), as_kept(season.learned)
    return [
        in_good_stand(one, in_pots(as_here(catalogue.crop(one.crop), one.cover), one.cover, garden), settings,
                      horizon, groups, garden.plan.seed)
        for one in several if one.sow >= since.start
    ]


def grown_standing(
    well: Iterable[GoodStand], split: Split, made: Mapping[str, Sequence[Batch]], garden: Garden
) -> list[Grown]:
    """What stands, as thin as its day is bad beside the best of the days on which its crop is `made`."""
    groups = (split.seen, split.unseen)
    return [
        thinned(one, groups, garden.plan.seed, emerged_best(one.standing, made), garden.farm) for one in well
    ]


def emerged_best(one: Standing, made: Mapping[str, Sequence[Batch]]) -> float | None:
    """The share that comes up on the best of the days that a plan may use."""
    alike = (b for b in made.get(one.crop, ()) if (b.way.name, b.cover) == (one.way, one.cover))
    return next((best_emerged(batch.outcome) for batch in alike), None)


def wished_crops(garden: Garden) -> dict[str, Crop]:
    """Every crop that some wish names, by key, in the order of the wishes."""
    catalogue = load_catalogue()
    keys = dict.fromkeys(key for wish in garden.wishes for key in wish.crops)
    return {key: catalogue.crop(key) for key in keys}


def stored(crops: Iterable[Crop]) -> frozenset[str]:
    return frozenset(crop.key for crop in crops if crop.harvest.profile == "stored")


def grown_crops(
    garden: Garden, crops: Mapping[str, Crop], weather: WeatherYears, split: Split, horizon: Horizon,
    as_here: AsHere, hands: Hands = HERE, meanwhile: Callable[[], object] = idle, sparing: bool = True,
    planned: Mapping[Kind, Sequence[int]] = NO_PLAN,
) -> Mapping[str, tuple[Batch, ...]]:
    """Every crop that may be sown, by key, early kinds with their crop; the hands do something else
    `meanwhile` (`Hands.map`); `sparing` and `planned` as of `batches`."""
    settings = Settings(weather, unwatered(garden.site, garden.seedbed), garden.lowest)
    dry = workable_ground(settings)
    groups = (split.seen, split.unseen)
    several = [one for crop in crops.values() for one in crop.by_type() if one.purposes[0].name != EARLY]
    return batches(
        several, garden, settings, dry, horizon, groups, garden.plan.seed, as_here, hands, meanwhile,
        sparing, planned,
    )
