"""Peas make nodes the faster the warmer it is, to a mean of 28 °C (stanfield1966, berry1979, truong1993):
in the heat of summer they flower and end; they do not sleep through it (docs/design/outlook-cases.md).

The places are real, their weather made of the packaged normals; what growers there do is common practice, no
source."""

from __future__ import annotations

import numpy as np
import pytest
from real_places import at, grown, offered


def days_to_picking(place: str, month: int, day: int) -> float:
    outcome = grown(place, "pea")[0].outcome
    sown = at(place, month, day)
    return float(np.median(outcome.first[:, sown].astype(int))) - sown


@pytest.mark.parametrize("place", ["des moines", "springfield"])
def test_sown_in_june_they_bear_in_two_months(place: str) -> None:
    """With growth at its best at 19 °C and none at 30 they took 85 to 97 days, into September."""
    assert 45 <= days_to_picking(place, 6, 10) <= 62


@pytest.mark.parametrize(("place", "month", "day"), [
    ("des moines", 6, 10), ("des moines", 6, 25), ("springfield", 6, 25), ("springfield", 7, 10),
    ("logrono", 6, 28), ("logrono", 7, 8),
])  # fmt: skip
def test_none_are_sown_to_flower_in_the_heat(place: str, month: int, day: int) -> None:
    assert not offered(place, "pea", month, day)


@pytest.mark.parametrize(("place", "month", "day"), [
    ("des moines", 7, 20), ("springfield", 8, 5), ("logrono", 8, 15), ("pune", 11, 20),
])  # fmt: skip
def test_those_of_autumn_are_sown_to_flower_after_it(place: str, month: int, day: int) -> None:
    """They had closed by 4 July, 17 July, 10 August and 16 November."""
    assert offered(place, "pea", month, day)


def test_spring_is_longer_where_it_warms_soon() -> None:
    """A sowing of mid-April at Springfield is picked in June, before the heat; it had closed on the 6th."""
    assert offered("springfield", "pea", 4, 15)
