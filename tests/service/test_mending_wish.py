"""Which wishes a plan before was not made for (season.md, 6). Invented wishes."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest

from evenpick.base.days import day_date
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.wanted import WantedItem
from evenpick.service.mending import asked_for_more
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem

HORIZON = Horizon(20_900, 5)


class Before:
    """A plan of which nothing but its pickings is asked."""

    def __init__(self, **kg: float) -> None:
        monday = day_date(HORIZON.start) - timedelta(weeks=10)
        self.pickings = tuple(
            ItemPickings(name, "kg", 1.0, tuple(
                WeekOfItem(monday + timedelta(weeks=week), each, 0.0, 0.0, 0.0, 0.0, 0.0)
                for week in range(52)
            ), 0)
            for name, each in kg.items()
        )


def wanted(**kg: float) -> list[WantedItem]:
    return [WantedItem(name, ("radish",), np.full(WEEKS, each), 1.0) for name, each in kg.items()]


@pytest.mark.parametrize(("now", "asked"), [
    ({"radish": 1.0, "leeks": 2.0}, ()),
    ({"radish": 1.0, "leeks": 2.0, "kale": 0.5}, (2,)),
    ({"radish": 2.0, "leeks": 1.0}, (0,)),
    ({"radish": 1.02, "leeks": 2.0}, ()),
    ({"radish": 0.0}, ()),
])
def test_what_is_new_or_wished_for_more_is_asked_for(now: dict[str, float], asked: tuple[int, ...]) -> None:
    assert asked_for_more(wanted(**now), [Before(radish=1.0, leeks=2.0)], HORIZON) == asked  # type: ignore[list-item]


def test_farms_of_a_cooperative_are_asked_together() -> None:
    several = [Before(radish=0.7), Before(radish=0.3)]
    assert asked_for_more(wanted(radish=1.0), several, HORIZON) == ()  # type: ignore[arg-type]
    assert asked_for_more(wanted(radish=1.0), several[:1], HORIZON) == (0,)  # type: ignore[arg-type]


def test_without_a_plan_before_nothing_is() -> None:
    assert asked_for_more(wanted(radish=1.0), [], HORIZON) == ()
