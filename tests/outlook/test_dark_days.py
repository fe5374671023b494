"""Days too short to grow in (docs/design/outlook.md, O21 and O23)."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from real_places import at, grown, offered, open_air

from evenpick.base.arrays import Floats
from evenpick.base.days import day_number, days_of_year
from evenpick.climate.daylight import day_length
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.season import OVERWINTERING, in_season, sown_in_the_dark
from evenpick.outlook.usual_year import DARK, next_dark, winter_standstill
from evenpick.report.outlook import EXPLAINED
from evenpick.service.why import why


@pytest.mark.parametrize(("lat", "first", "last"), [
    (38.44, "2022-11-19", "2023-01-24"),  # Santa Rosa (sonomafall)
    (36.68, "2014-11-24", "2015-01-17"),  # Salinas (salinaslight)
    (47.33, "2018-11-01", "2019-02-09"),  # Gig Harbor (giglight)
])  # fmt: skip
def test_days_of_less_than_ten_hours_by_the_almanac(lat: float, first: str, last: str) -> None:
    """Growers' own dates, within four days."""
    start = day_number(date.fromisoformat(first)) - 60
    dark = np.flatnonzero(day_length(lat, days_of_year(start, 240)) < DARK) + start
    assert abs(dark[0] - day_number(date.fromisoformat(first))) <= 4
    assert abs(dark[-1] - day_number(date.fromisoformat(last))) <= 4


@pytest.mark.parametrize("place", ["phoenix", "delhi", "singapore", "miami"])
def test_it_is_never_dark_in_the_south(place: str) -> None:
    here = open_air(place)
    assert (next_dark(here) == here.days).all()


def test_june_is_dark_on_the_other_side_of_the_world() -> None:
    here = open_air("kapiti")
    assert next_dark(here)[at("kapiti", 6, 21)] == at("kapiti", 6, 21)
    assert next_dark(here)[at("kapiti", 12, 21)] > at("kapiti", 12, 31)


def test_small_seed_waits_for_the_light() -> None:
    """Spinach and lettuce were offered in the open at Dublin from the New Year. Beans, which are large, and
    garlic may go in (winterbeans; garlic is planted through the winter, common practice, no source)."""
    for crop in ("spinach", "leaf-lettuce"):
        assert not any(offered("dublin", crop, month, 15, "direct") for month in (11, 12, 1))
        assert offered("dublin", crop, 3, 15, "direct")
    assert offered("dublin", "broad-bean", 11, 20)
    assert offered("dublin", "garlic", 12, 15)


def test_it_is_said_to_be_too_dark() -> None:
    told = why(Site("Cork", 51.9, -8.47, 10.0), WeatherChoice(), "spinach", date(2026, 11, 28))
    assert not told.good_time
    assert told.against == "days too short"
    assert "sonomafall" in dict(told.sources)
    assert told.against in EXPLAINED


def test_what_stands_through_the_short_days_is_no_seedling() -> None:
    """Carrots at Cork are to be well up by midwinter: mid-October's are not (held to O21; no source)."""
    carrots = ready("cork", "early-carrot", OVERWINTERING)
    assert carrots[at("cork", 10, 1)] > 0.8
    assert carrots[at("cork", 10, 15)] < 0.1


def test_short_days_make_a_winter_where_cold_makes_none() -> None:
    here = open_air("san francisco")
    still = winter_standstill(load_catalogue().crop("spinach").development, here)
    assert (still == here.days).all()
    assert next_dark(here)[0] < here.days


def ready(place: str, crop: str, purpose: str) -> Floats:
    """Share of years in which each day's sowing in place is in season."""
    (made,) = (one for one in grown(place, crop)
               if one.outcome.way.name == "direct" and one.outcome.purpose.name == purpose)
    return np.asarray(in_season(made.outcome, open_air(place)).mean(axis=0))


def test_only_seed_in_place_is_too_dark() -> None:
    here = open_air("dublin")
    dark = at("dublin", 12, 15)
    by_way = {made.outcome.way.name: sown_in_the_dark(made.outcome, here)[dark]
              for made in grown("dublin", "leaf-lettuce")}
    assert by_way == {"direct": True, "raised": False}
