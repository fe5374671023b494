"""Peas and beans that stand the winter (docs/design/outlook.md, O9 and O10)."""

from __future__ import annotations

from datetime import timedelta

import pytest
from real_places import at, grown, offered, weather

from evenpick.base.days import day_date
from evenpick.outlook.season import OVERWINTERING
from evenpick.outlook.windows import Calendar


def wintering(place: str, crop: str) -> Calendar:
    return next(made for made in grown(place, crop) if made.outcome.purpose.name == OVERWINTERING)


def picked(place: str, crop: str, month: int, day: int) -> tuple[tuple[int, int], float]:
    """Month and day of the middle first picking, and the days between the early and the late tenth."""
    made, sown = wintering(place, crop), at(place, month, day)
    low, likely, high = (float(made.score.days[p][sown]) for p in (10, 50, 90))
    when = day_date(weather(place).start + sown) + timedelta(days=round(likely))
    return (when.month, when.day), high - low


@pytest.mark.parametrize("crop", ["broad-bean", "pea"])
@pytest.mark.parametrize("place", ["norwich", "dublin"])
def test_no_year_is_like_another(place: str, crop: str) -> None:
    """All years had them on the very day on which the usual year is warm enough: 222 to 222 days."""
    assert picked(place, crop, 11, 1)[1] >= 14


def test_autumn_beans_are_picked_in_early_summer() -> None:
    """Late May or early June near Manchester (allotmentnotes2016), planted out in late November. With all
    their growth done by the first warm day they were picked on 11 May."""
    assert (5, 20) <= picked("norwich", "broad-bean", 11, 20)[0] <= (6, 12)


@pytest.mark.parametrize(("month", "day"), [(10, 20), (11, 20), (12, 10), (1, 1), (1, 20)])
def test_they_are_sown_from_october_to_february(month: int, day: int) -> None:
    """Through December and January and into February in eastern England (winterbeans); it was shut from 17
    December to 3 February."""
    assert offered("norwich", "broad-bean", month, day)
