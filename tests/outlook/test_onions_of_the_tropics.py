"""Between the tropics onions are the kinds for short days (docs/design/outlook.md, O9).

Days there are of 11 to 13 hours, in which kinds for long days make no bulb (echoonion).
"""

from __future__ import annotations

import pytest
from real_places import at, grown, offered

from evenpick.outlook.season import OVERWINTERING, STORING


@pytest.mark.parametrize("place", ["kano", "manila", "addis ababa", "nairobi"])
@pytest.mark.parametrize("crop", ["onion", "onion-sets"])
def test_none_is_of_the_kinds_for_long_days(place: str, crop: str) -> None:
    found = {made.outcome.purpose.name for made in grown(place, crop) if made.windows}
    assert found == {OVERWINTERING}


def test_on_cool_heights_each_country_has_its_own() -> None:
    found = {made.outcome.purpose.name for made in grown("bogota", "onion") if made.windows}
    assert found == {STORING}


def test_by_the_desert_they_are_raised_for_the_cool_months() -> None:
    """A crop of northern Nigeria's dry season (uwionion)."""
    assert all(offered("kano", "onion", month, 1, "raised") for month in (9, 10))
    assert not any(offered("kano", "onion", month, 1, "raised") for month in (1, 2, 3, 4))


def test_they_are_lifted_there_in_half_a_year_and_not_in_eight_months() -> None:
    found = (made for made in grown("kano", "onion") if made.windows)
    raised = next(made for made in found if made.outcome.way.name == "raised")
    assert raised.score.days[50][at("kano", 10, 1)] < 190


@pytest.mark.parametrize("place", ["addis ababa", "nairobi"])
def test_on_mild_heights_they_are_set_out_all_the_year(place: str) -> None:
    """No winter comes for which they would have to be kept."""
    assert all(offered(place, "onion", month, 15, "raised") for month in range(1, 13))
