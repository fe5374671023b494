"""What is not in the ground, or not up, in the coldest weeks: keeping onions where there are kinds for the
winter, and potatoes where frosts are usual (docs/design/outlook.md, O21).

The places are real, their weather made of the packaged normals; what growers there do is common practice, no
source."""

from __future__ import annotations

import pytest
from real_places import PLACES, at, grown, offered

from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.service.windows import windows


@pytest.mark.parametrize(
    ("crop", "month", "day"), [("onion-sets", 8, 20), ("onion-sets", 11, 15), ("onion", 10, 25)]
)
@pytest.mark.parametrize(("lat", "lon"), [PLACES["savannah"][:2], (38.7, -9.1)], ids=["savannah", "lisbon"])
def test_onions_that_keep_are_not_set_out_before_a_mild_winter(
    lat: float, lon: float, crop: str, month: int, day: int
) -> None:
    """Savannah's sets to store of August were to be lifted after 362 days; autumn's are of other kinds."""
    rows = windows(Site("there", lat, lon), WeatherChoice(), [crop], ("open",), 2027).windows
    kept = [row for row in rows if row.purpose == "storing" and row.way != "raised"]
    assert kept
    assert all(row.opens <= row.closes < (6, 1) for row in kept)
    winter = [row for row in rows if row.purpose == "overwintering"]
    assert winter, "kinds for the winter stand in; Lisbon had none"
    if month > 8:
        assert any(row.opens <= (month, day) <= row.closes for row in winter)


@pytest.mark.parametrize(("place", "crop", "month", "day"), [
    ("hobart", "main-potato", 4, 25), ("fresno", "main-potato", 9, 25), ("fresno", "main-potato", 11, 1),
    ("fresno", "early-potato", 10, 1),
])  # fmt: skip
def test_potatoes_do_not_stand_through_the_frosts_of_winter(
    place: str, crop: str, month: int, day: int
) -> None:
    """Planted in April at Hobart they were up in June, to be lifted in November, 40 years of 100 frosted."""
    assert not offered(place, crop, month, day)


def test_planted_in_the_cold_they_come_up_after_it() -> None:
    """The valley plants from the end of November on, Hobart from July."""
    assert offered("fresno", "main-potato", 12, 20)
    assert offered("fresno", "early-potato", 1, 15)
    assert offered("hobart", "early-potato", 7, 20)


def test_most_years_they_are_up_after_midwinter() -> None:
    made = next(each for each in grown("fresno", "main-potato"))
    sown = at("fresno", 12, 20)
    assert (made.outcome.up[:, sown].astype(int) >= at("fresno", 12, 31)).mean() > 0.9
