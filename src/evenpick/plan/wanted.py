"""What is wanted of each item in each week, gathered over the outlets."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import day_date
from evenpick.garden.garden import Wish
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS, Horizon


@dataclass(frozen=True, slots=True)
class WantedItem:
    """One item over all outlets: kg by week, shape (weeks,); nought past the counted weeks."""

    name: str
    crops: tuple[str, ...]
    kg: Floats
    weight: float


def wanted_items(wishes: Sequence[Wish], horizon: Horizon, stored: Set[str]) -> tuple[WantedItem, ...]:
    """Wishes of one item in several outlets are added; their crops may stand in for each other.

    `stored`: keys of crops that go to store; an item of such crops alone is counted to the end.
    """
    names = dict.fromkeys(wish.item for wish in wishes)
    return tuple(_item(name, [w for w in wishes if w.item == name], horizon, stored) for name in names)


def _item(name: str, wishes: list[Wish], horizon: Horizon, stored: Set[str]) -> WantedItem:
    crops = tuple(dict.fromkeys(crop for wish in wishes for crop in wish.crops))
    weeks = WEEKS if stored >= set(crops) else COUNTED_WEEKS
    kg = np.sum([_weekly(wish, horizon, weeks) for wish in wishes], axis=0)
    size = np.array([wish.kg_per_week for wish in wishes])
    weight = float(np.average([wish.weight for wish in wishes], weights=size))
    return WantedItem(name, crops, kg, weight)


def _weekly(wish: Wish, horizon: Horizon, weeks: int) -> Floats:
    """A week's share of the wish: the days of it that lie in the season, of seven."""
    kg = np.zeros(WEEKS)
    for week in range(weeks):
        dates = [day_date(horizon.start + 7 * week + i) for i in range(7)]
        kg[week] = wish.kg_per_week * sum(wish.wanted_on(d.month, d.day) for d in dates) / 7
    return kg
