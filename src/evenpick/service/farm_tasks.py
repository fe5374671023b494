"""Each farm's own task of a cooperative, and the one that they are joined into (docs/design/cooperative.md,
2)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.plan.farms import joined
from evenpick.plan.hands import HERE, Hands
from evenpick.plan.horizon import Horizon
from evenpick.plan.mend import Before
from evenpick.plan.options import NO_PLAN
from evenpick.plan.task import Task, portion_sizes
from evenpick.plan.wanted import wanted_items
from evenpick.service.cooperative_files import Described
from evenpick.service.garden_task import GardenTask, garden_task
from evenpick.service.growing import grown_crops, split_members, standing_well, stored
from evenpick.service.learning import as_kept
from evenpick.service.mending import asked_for_more, before_of, days_before
from evenpick.service.shared_weather import SharedWeather, shared_weather
from evenpick.service.solving import Watch
from evenpick.service.standing import UnderWay, under_way
from evenpick.service.store_plan import garden_digest


def tasks_of_farms(
    described: Described, begin: int, watch: Watch, hands: Hands = HERE, mend: bool = False
) -> tuple[list[GardenTask], Task, Sequence[str]]:
    """Everything grown on every farm from day number `begin` on: each farm's task, the joined one, and notes
    on the weather; to `mend` the plan before, its days stay in it."""
    crops = {key: load_catalogue().crop(key) for wish in described.own.wishes for key in wish.crops}
    seasons = [under_way(farm.file, begin, None, crops) for farm in described.own.farms]
    watch.stage("weather", 0.0)
    weather = _weather(described, seasons, begin)
    watch.stage("growing every crop on every farm in every year", 0.05)
    parts = _parts(described, seasons, begin, crops, weather, hands, mend)
    work = joined([part.work for part in parts], [farm.name for farm in described.own.farms])
    return parts, work, weather.notes


def _weather(described: Described, seasons: Sequence[UnderWay], begin: int) -> SharedWeather:
    since = min((one.since for one in seasons if one.since is not None), default=None)
    readings = [season.readings for season in seasons]
    return shared_weather(described.gardens, Horizon(begin, 0), since, readings)


def _parts(
    described: Described, seasons: Sequence[UnderWay], begin: int, crops: Mapping[str, Crop],
    weather: SharedWeather, hands: Hands, mend: bool = False,
) -> list[GardenTask]:
    """Each farm's own task, with the same items and years; to `mend` the plan before, its days stay in it."""
    wanted = wanted_items(described.own.wishes, Horizon(begin, 0), stored(crops.values()))
    split = split_members(weather.pairs[0][1], described.own.plan.years)
    horizons = [Horizon(begin, garden.plan.sowing_weekday, garden.plan.sowing_days)
                for garden in described.gardens]
    offered = [
        tuple(replace(item, crops=described.here(item, number)) for item in wanted)
        for number in range(len(horizons))
    ]
    made = hands.together([
        partial(grown_crops, garden, {key: crops[key] for item in here for key in item.crops}, pair[1], split,
                horizon, as_kept(season.learned), hands,
                planned=days_before(season, horizon) if mend else NO_PLAN)
        for garden, here, pair, horizon, season in zip(
            described.gardens, offered, weather.pairs, horizons, seasons, strict=True
        )
    ])
    portions = portion_sizes(wanted, made)
    return [
        garden_task(garden, garden_digest(text), season, horizon, wanted, crops, pair[1], split, own,
                    standing_well(season, pair[0], horizon, split, garden), here, portions)
        for garden, text, season, horizon, pair, own, here in zip(
            described.gardens, described.texts, seasons, horizons, weather.pairs, made, offered, strict=True
        )
    ]


def before_together(parts: Sequence[GardenTask]) -> Before | None:
    """The plan before as areas of the joined task; None where no farm has one."""
    if all(part.season.before is None for part in parts):
        return None
    several = [before_of(part.work, part.season, part.horizon) for part in parts]
    areas, late = (np.concatenate([getattr(one, name) for one in several]) for name in ("areas", "late"))
    plans = [part.season.before for part in parts if part.season.before is not None]
    return Before(areas, late, asked_for_more(parts[0].wanted, plans, parts[0].horizon))
