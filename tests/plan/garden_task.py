"""A small invented garden's task, made from the packaged Brize Norton record, for several tests."""

from __future__ import annotations

from datetime import date
from functools import cache

import numpy as np

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Bench, Garden, Ground, Outlet, WeatherChoice, Wish
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import workable_ground
from evenpick.plan.horizon import Horizon
from evenpick.plan.options import Batch, batches
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import WantedItem, wanted_items
from evenpick.service.climate import weather_for

BEGIN = day_number(date(2027, 2, 17))  # a Wednesday
HORIZON = Horizon(BEGIN, weekday=5)
KEYS = ("radish", "cos-lettuce", "pea", "leaf-lettuce", "main-potato", "courgette", "tomato", "main-carrot")


Day = tuple[int, int]


def wish(item: str, *crops: str, kg: float = 1.0, opens: Day | None = None, closes: Day | None = None,
         outlet: str = "table", weight: float = 1.0) -> Wish:  # fmt: skip
    return Wish(item, crops, outlet, kg, opens, closes, weight)


GARDEN = Garden(
    Site("Brize Norton", 51.758, -1.578),
    (Ground("plot", "open", 40.0), Ground("tunnel", "tunnel", 8.0)),
    (Outlet("table", "kitchen"),),
    (
        wish("radish", "radish", kg=0.3), wish("lettuce", "cos-lettuce", "leaf-lettuce", kg=0.8),
        wish("pea", "pea", kg=1.0, opens=(6, 1), closes=(8, 31)), wish("potato", "main-potato", kg=2.0),
        wish("courgette", "courgette", kg=1.0, opens=(7, 1), closes=(9, 30)),
        wish("tomato", "tomato", kg=1.0, opens=(7, 1), closes=(10, 15)),
        wish("carrot", "main-carrot", kg=0.7),
    ),
    fleece=10.0, bench=Bench(places=400, lowest=16.0),
)  # fmt: skip


@cache
def settings() -> Settings:
    choice = WeatherChoice(packaged="brize_norton")
    return Settings(weather_for(GARDEN.site, choice, HORIZON.start, HORIZON.days + 14, DEFAULT_SEED))


def groups() -> tuple[np.ndarray, np.ndarray]:
    """Every other member to plan on, the rest unseen."""
    years = settings().weather.years
    return np.arange(0, years, 2), np.arange(1, years, 2)


@cache
def made() -> dict[str, tuple[Batch, ...]]:
    crops = [load_catalogue().crop(key) for key in KEYS]
    dry = workable_ground(settings())
    return dict(batches(crops, GARDEN, settings(), dry, HORIZON, groups(), DEFAULT_SEED))


@cache
def wanted() -> tuple[WantedItem, ...]:
    return wanted_items(GARDEN.wishes, HORIZON, {"main-potato"})


@cache
def whole() -> Task:
    return task(GARDEN, wanted(), made(), *groups(), DEFAULT_SEED)


def all_batches() -> list[Batch]:
    return [batch for several in made().values() for batch in several]
