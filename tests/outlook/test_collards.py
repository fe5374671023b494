"""Collards, the South's greens: when they are picked there, and where they stand a winter.

The places are real, their weather made of the packaged normals."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from real_places import SOWN, YEAR, grown, offered, weather

from evenpick.base.days import day_date


def first_pickings(place: str) -> set[date]:
    """Of every sowing in a window, of any way and purpose: the middle year's, every fifth day."""
    found = set()
    for made in grown(place, "collards"):
        outcome = made.outcome
        for window in made.windows:
            for day in range(window.opens, window.closes + 1, 5):
                sound = outcome.first[:, day % YEAR][outcome.share[:, day % YEAR] > 0]
                found.add(day_date(int(np.median(sound)) + weather(place).start).replace(year=SOWN - 3))
    return found


@pytest.mark.parametrize("place", ["savannah", "salisbury", "atlanta"])
def test_picked_when_the_southeast_picks_them(place: str) -> None:
    """collarddates1992, six regions of North and South Carolina and Georgia, whose dates nothing here was
    made of: spring harvests mid-April to early July, then none to mid-August, then to late January."""
    picked = first_pickings(place)
    year = SOWN - 3
    assert not any(date(year, 7, 15) <= day <= date(year, 8, 15) for day in picked)
    for first, last in (((4, 15), (5, 15)), ((5, 15), (6, 30)), ((10, 1), (11, 15)), ((11, 15), (12, 31))):
        assert any(date(year, *first) <= day <= date(year, *last) for day in picked), first


def test_they_stand_more_heat_than_kale() -> None:
    """Brazil's Northeast plants them in means of 24 to 27 °C (nascimentocouve); kale has
    24 as its greatest (knott1997)."""
    assert offered("atlanta", "collards", 6, 25)
    assert not offered("atlanta", "kale", 6, 25)


@pytest.mark.parametrize("place", ["houston", "tampa", "savannah"])
def test_the_gulf_sows_them_from_august_through_the_winter(place: str) -> None:
    assert all(offered(place, "collards", *day) for day in ((8, 25), (9, 20), (10, 15), (1, 25)))


def test_hard_winters_kill_them() -> None:
    """They stand 15 °F (farmtoyounhcollards)."""
    assert not any(
        made.windows for made in grown("winnipeg", "collards") if made.outcome.purpose.name == "overwintering"
    )
    assert offered("winnipeg", "collards", 5, 20)
