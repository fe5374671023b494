"""Limits of heat and of cold ground that one table had too wide for a crop, with the sources beside it."""

from __future__ import annotations

import pytest
from real_places import grown, offered


def never(place: str, key: str) -> bool:
    return not any(made.windows for made in grown(place, key))


def test_radicchio_is_of_cool_weather() -> None:
    """Air of 15 to 24 °C (ornamentalediblesradicchio): 29 °C (knott1997) is of chicory for its roots."""
    assert never("singapore", "chicory")
    assert not offered("miami", "chicory", 6, 15)
    assert offered("miami", "chicory", 11, 1)
    assert offered("phoenix", "chicory", 10, 1)
    assert offered("dublin", "chicory", 6, 1)
    assert offered("boston", "chicory", 7, 1)


def test_leeks_do_not_stand_through_the_heat_of_the_tropics() -> None:
    """Good yields at 13 to 24 °C (wikifarmerleek)."""
    assert never("singapore", "leek")
    assert not offered("miami", "leek", 4, 15)
    assert offered("miami", "leek", 10, 1)
    assert offered("dublin", "leek", 4, 10)
    assert offered("raleigh", "leek", 3, 15)
    assert offered("salisbury", "leek", 4, 1)


@pytest.mark.parametrize(("place", "day"), [("trondheim", 17), ("helsinki", 20)])
def test_maincrop_potatoes_wait_for_warmer_ground(place: str, day: int) -> None:
    """Seed pieces rot in ground under 7 to 10 °C (thornton2020, umainepotatosoil)."""
    assert not offered(place, "main-potato", 4, day)
    assert offered(place, "main-potato", 5, 5)


@pytest.mark.parametrize(("place", "too_soon", "sown"), [
    ("norwich", (5, 5), (5, 20)), ("dublin", (5, 1), (5, 20)), ("hobart", (10, 5), (10, 25)),
])  # fmt: skip
def test_runner_beans_wait_for_ground_of_twelve_degrees(
    place: str, too_soon: tuple[int, int], sown: tuple[int, int]
) -> None:
    """They thrive from 12 °C (runnertwelve)."""
    assert not offered(place, "runner-bean", *too_soon, "direct")
    assert offered(place, "runner-bean", *sown, "direct")


@pytest.mark.parametrize(("place", "month", "day"), [
    ("sacramento", 4, 15), ("sacramento", 5, 10), ("dallas", 5, 17), ("houston", 6, 15),
])  # fmt: skip
def test_sweet_corn_is_pollinated_through_days_of_35_degrees(place: str, month: int, day: int) -> None:
    """In the morning, and 95 to 98 °F cost next to nothing where it is watered (galdi2023,
    cropwatchcornheat): with half lost at 95 °F California's valley sowed none in place before 20 May."""
    assert offered(place, "sweetcorn", month, day, "direct")


def test_in_the_low_desert_summer_is_too_hot_for_it() -> None:
    """July has 41 °C by day there; pollen is hurt severely over 37.2 (udelcornheat)."""
    assert not offered("phoenix", "sweetcorn", 5, 15)
    assert offered("phoenix", "sweetcorn", 8, 1)


def test_tomatoes_set_in_hot_days_with_cool_nights() -> None:
    """Nights matter more than days (brustheat): Seville's inland growers plant out through May."""
    assert offered("seville", "tomato", 4, 8, "raised")
    assert not offered("houston", "tomato", 4, 8, "raised")
