"""Where the longest day is short and winters are warm (docs/design/outlook.md, O9, O16; types.md).

The places are real, their weather made of the packaged normals. What growers there do is common practice, no
source, unless one is named."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from real_places import at, grown, offered, weather

from evenpick.base.days import day_date
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Anchor, Crop
from evenpick.outlook.anchor_climate import anchor_settings
from evenpick.outlook.anchors import anchor_day, median_days
from evenpick.outlook.outcome import Fate
from evenpick.outlook.season import OVERWINTERING
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import _offset
from evenpick.outlook.windows import Calendar


def overwintering(crop: Crop) -> Crop:
    return crop.grown_for(next(one for one in crop.purposes if one.name == OVERWINTERING))


def of_way(place: str, crop: str, way: str, purpose: str = OVERWINTERING) -> Calendar:
    return next(made for made in grown(place, crop)
                if (made.outcome.way.name, made.outcome.purpose.name) == (way, purpose))  # fmt: skip


@pytest.mark.parametrize(("where", "lat", "lon", "set_out", "days", "within"), [
    # kvkkapurthala: set out from mid-December to mid-January, 120 days (PRO-6) to 145 (Punjab Naroya)
    ("Kapurthala", 31.38, 75.38, (1, 1), 132.0, 14.0),
    # boyhan2002, boyhan2009: set out in November and December, lifted from early April to early May
    ("Lyons, Georgia", 32.0, -82.32, (12, 1), 140.0, 14.0),
])  # fmt: skip
def test_onions_of_low_latitudes_are_ripe_when_they_are_lifted(
    where: str, lat: float, lon: float, set_out: tuple[int, int], days: float, within: float
) -> None:
    """Nothing was fitted on these: the kinds that overwinter, starting at eleven hours in place of twelve."""
    kind = overwintering(load_catalogue().crop("onion"))
    anchor = Anchor(lat, lon, where, *set_out, days, "open", "raised", "", "planting out")
    settings = anchor_settings(where, lat, lon)
    sow = anchor_day(anchor, settings.weather.start)
    assert median_days(kind, anchor, settings, sow, kind.thermal_time) == pytest.approx(days, abs=within)


@pytest.mark.parametrize(("where", "lat", "lon"), [
    ("Rahuri", 19.39, 74.65), ("Nashik", 20.0, 73.78), ("Hyderabad", 17.4, 78.47),
])  # fmt: skip
@pytest.mark.parametrize("month", [7, 8, 9])
def test_onions_of_the_rains_are_ripe_when_they_are_lifted(
    where: str, lat: float, lon: float, month: int
) -> None:
    """81 days from setting out of the earliest kind at Rahuri (rahurikharif2002), 95 to 110 of the commonest
    (krishijagranonion). Nothing was fitted on these."""
    kind = overwintering(load_catalogue().crop("onion"))
    anchor = Anchor(lat, lon, where, month, 15, 95.0, "open", "raised", "", "planting out")
    settings = anchor_settings(where, lat, lon)
    sow = anchor_day(anchor, settings.weather.start)
    assert 81 <= median_days(kind, anchor, settings, sow, kind.thermal_time) <= 110


@pytest.mark.parametrize("place", ["pune", "hyderabad"])
@pytest.mark.parametrize(("month", "day"), [(6, 12), (7, 1), (8, 1), (10, 15)])
def test_between_the_tropics_onions_are_raised_for_the_rains_too(
    place: str, month: int, day: int
) -> None:
    """Two fifths of India's are of the kharif and late kharif (hinduonionbeds2014); they were sown from
    the end of August alone, for no kind was set out so long before midwinter."""
    assert offered(place, "onion", month, day, "raised")


@pytest.mark.parametrize("place", ["tampa", "delhi", "houston", "lahore"])
def test_where_there_is_a_winter_they_are_for_it(place: str) -> None:
    assert not offered(place, "onion", 6, 12)
    assert offered(place, "onion", 10, 25)


@pytest.mark.parametrize(("place", "hours"), [("lahore", 11.0), ("cairo", 11.0), ("wellesbourne", 12.0)])
def test_bulbs_start_in_shorter_days_nearer_the_equator(place: str, hours: float) -> None:
    here = Settings(weather(place)).cover("open")
    rule = overwintering(load_catalogue().crop("onion")).bulbing
    assert rule is not None
    assert float(here.hours.max()) - _offset(rule, here) == pytest.approx(hours)


@pytest.mark.parametrize("place", ["lahore", "delhi", "cairo"])
def test_onions_of_autumn_are_lifted_before_the_heat(place: str) -> None:
    assert offered(place, "onion", 10, 20)
    assert offered(place, "onion-sets", 11, 1)
    sets = of_way(place, "onion-sets", "planted")
    sow = at(place, 11, 1)
    lifted = day_date(weather(place).start) + timedelta(days=sow + float(sets.score.days[50][sow]))
    assert 3 <= lifted.month <= 5


@pytest.mark.parametrize("place", ["lahore", "delhi", "mobile", "houston"])
def test_young_onions_are_set_out_until_midwinter_where_winters_are_mild(place: str) -> None:
    """Punjab raises them from mid-October on and sets them out until mid-January (kvkkapurthala)."""
    assert offered(place, "onion", 11, 12, "raised")
    assert not offered("dublin", "onion", 11, 12, "raised")


def test_where_no_winter_chills_them_none_are_too_big_for_it() -> None:
    """Taipei's coldest weeks have 15 to 16 °C: onions of early October are no more driven to seed than those
    of November; Houston's, of 12, are."""
    for place, bolt in (("taipei", False), ("houston", True)):
        outcome = of_way(place, "onion", "direct").outcome
        share = float(np.mean(outcome.fate[:, at(place, 9, 10)] == Fate.BOLTED))
        assert (share > 0.5) == bolt


@pytest.mark.parametrize(("place", "month", "day"), [
    ("lahore", 10, 15), ("delhi", 10, 20), ("cairo", 10, 20), ("chiang mai", 11, 1), ("hyderabad", 10, 15),
])  # fmt: skip
def test_warm_winters_have_their_own_garlic(place: str, month: int, day: int) -> None:
    assert offered(place, "garlic", month, day)
    early = of_way(place, "garlic", "planted", "early kinds")
    assert not of_way(place, "garlic", "planted", "storing").windows
    sow = at(place, month, day)
    lifted = day_date(weather(place).start) + timedelta(days=sow + float(early.score.days[50][sow]))
    assert 2 <= lifted.month <= 5


@pytest.mark.parametrize("place", ["dublin", "cape town", "houston"])
def test_garlic_that_does_well_wants_no_other_kinds(place: str) -> None:
    assert {made.outcome.purpose.name for made in grown(place, "garlic")} == {"storing"}


def test_garlic_near_the_equator_has_no_season_and_none_at_sea_level() -> None:
    assert offered("nairobi", "garlic", 4, 1)
    assert offered("nairobi", "garlic", 11, 1)
    for place in ("singapore", "lagos"):
        assert not any(made.windows for made in grown(place, "garlic"))
