"""What stands the winter for its spring: when it is sown, and what cold it bears."""

from __future__ import annotations

import pytest
from real_places import at, grown, offered

from evenpick.outlook.season import OVERWINTERING


@pytest.mark.parametrize("place", ["dublin", "edinburgh", "norwich"])
def test_sprouting_broccoli_is_not_raised_in_winter(place: str) -> None:
    """Grown for a year it is too large to hold up and to cover; sown from March or April to June."""
    assert not any(offered(place, "sprouting-broccoli", month, 15) for month in (1, 2))
    assert all(offered(place, "sprouting-broccoli", month, 15) for month in (5, 6))


def test_sprouting_broccoli_is_not_raised_in_winter_in_the_south() -> None:
    winter = [(month, day) for month in (6, 7, 8) for day in (1, 20)]
    assert not any(offered("dunedin", "sprouting-broccoli", *day) for day in winter)
    assert offered("dunedin", "sprouting-broccoli", 12, 15)


@pytest.mark.parametrize("place", ["edinburgh", "norwich", "dublin"])
def test_spring_cabbage_mostly_lives_through_a_winter_by_the_north_sea(place: str) -> None:
    """Hardened it is killed at -7 to -10 °C and less (cabbagehardiness), not at what spoils a head."""
    made = next(each for each in grown(place, "summer-cabbage") if each.outcome.purpose.name == OVERWINTERING)
    assert made.score.success[at(place, 8, 15)] >= 0.6
