"""Beetroot to store is sown in early summer and lifted before the frosts (docs/design/outlook.md, O9).

What growers do is common practice, no source; the places are real, their weather made of the packaged
normals."""

from __future__ import annotations

import pytest
from real_places import grown, weather

from evenpick.base.days import day_date


def sown_to_store(place: str) -> tuple[tuple[int, int], tuple[int, int]]:
    """Month and day on which the window opens and closes."""
    made = next(each for each in grown(place, "beetroot") if each.outcome.purpose.name == "storing")
    (window,) = made.windows
    opens, closes = (day_date(weather(place).start + each) for each in (window.opens, window.closes))
    return (opens.month, opens.day), (closes.month, closes.day)


@pytest.mark.parametrize("place", ["dublin", "krakow", "ulm", "warsaw"])
def test_it_is_sown_in_early_summer(place: str) -> None:
    opens, closes = sown_to_store(place)
    assert (5, 1) <= opens <= (6, 10)
    assert (6, 20) <= closes <= (8, 10)


def test_where_summers_are_hot_it_is_sown_after_the_longest_day() -> None:
    opens, closes = sown_to_store("des moines")
    assert (6, 1) <= opens <= (7, 10)
    assert (7, 15) <= closes <= (8, 20)


def test_fresh_it_is_sown_from_spring_on() -> None:
    made = next(each for each in grown("dublin", "beetroot") if each.outcome.purpose.name == "fresh")
    first = day_date(weather("dublin").start + made.windows[0].opens)
    assert (first.month, first.day) < (4, 15)
