"""Turnips and winter radishes to store are lifted as it grows cold, not before (usdastoring; O9)."""

from __future__ import annotations

import pytest
from real_places import grown, offered, weather

from evenpick.base.days import day_date


@pytest.mark.parametrize("crop", ["turnip", "winter-radish"])
@pytest.mark.parametrize("place", ["dublin", "krakow", "warsaw", "omaha"])
def test_they_are_sown_in_summer(place: str, crop: str) -> None:
    made = next(each for each in grown(place, crop) if each.outcome.purpose.name == "storing")
    (window,) = made.windows
    opens, closes = (day_date(weather(place).start + each) for each in (window.opens, window.closes))
    assert (6, 1) <= (opens.month, opens.day) <= (7, 31)
    assert (7, 15) <= (closes.month, closes.day) <= (8, 31)


def test_where_winters_are_mild_turnips_are_pulled_fresh_through_them_all_the_same() -> None:
    assert all(offered("adelaide", "turnip", *day) for day in ((4, 15), (5, 15), (5, 31), (7, 15)))
