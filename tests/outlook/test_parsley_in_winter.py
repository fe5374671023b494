"""Parsley of late summer stands the winter and is cut until it runs to seed in spring (O9)."""

from __future__ import annotations

import pytest
from real_places import at, grown

from evenpick.outlook.season import OVERWINTERING


def winters(place: str, month: int, day: int) -> bool:
    sown = at(place, month, day)
    return any(window.opens <= sown <= window.closes for made in grown(place, "parsley")
               if made.outcome.purpose.name == OVERWINTERING for window in made.windows)


@pytest.mark.parametrize("place", ["dublin", "edinburgh", "cork"])
def test_it_is_sown_after_the_middle_of_summer(place: str) -> None:
    """In Canada by the Pacific from mid-August (smallfarmparsley); where winters are mild in late summer and
    early autumn, to be cut in winter and early spring (southafricaparsleyplanting)."""
    assert winters(place, 8, 15)
    assert not winters(place, 5, 1)
    assert not winters(place, 11, 15)


def test_not_where_winters_kill_it() -> None:
    assert not any(winters("winnipeg", 8, day) for day in (1, 15, 30))
