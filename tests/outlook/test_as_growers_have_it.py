"""Days to picking and what heat takes, crop by crop, as growers print them (docs/design/outlook-cases.md)."""

from __future__ import annotations

import pytest
from real_places import at, grown

from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.windows import Calendar


def sown_for(place: str, crop: str, purpose: str, way: str) -> Calendar:
    return next(
        made for made in grown(place, crop)
        if (made.outcome.purpose.name, made.outcome.way.name) == (purpose, way)
    )


def days(place: str, crop: str, purpose: str, way: str, month: int, day: int) -> float:
    return float(sown_for(place, crop, purpose, way).score.days[50][at(place, month, day)])


@pytest.mark.parametrize(("place", "most"), [("norwich", 74), ("chicago", 78)])
def test_kale_for_leaf_takes_ten_to_eleven_weeks_from_seed(place: str, most: int) -> None:
    """70 to 80 days (farmtoyounh), 55 to 65 from emergence (fedcokale); an anchor of full plants made it five
    days longer."""
    assert 61 <= days(place, "kale", "fresh", "direct", 6, 1) <= most


@pytest.mark.parametrize("place", ["norwich", "chicago"])
def test_baby_kale_is_cut_in_about_a_month_in_summer(place: str) -> None:
    """3 1/2 to 5 weeks (hawthornkale); it was six."""
    assert 24 <= days(place, "kale", "baby leaf", "direct", 6, 15) <= 35


def test_cauliflower_for_autumn_grows_on_in_the_warm() -> None:
    """Most kinds 85 to 130 days from seed (aggiecauliflower); of July it took 132 at Raleigh."""
    assert 85 <= days("raleigh", "cauliflower", "fresh", "raised", 7, 1) <= 125


@pytest.mark.parametrize(("place", "least"), [("raleigh", 0.85), ("kansas city", 0.8)])
def test_hot_days_with_cool_nights_cost_no_squash(place: str, least: float) -> None:
    """It takes days in the 90s °F with nights in the mid to high 70s (udelpumpkinset)."""
    squash = sown_for(place, "winter-squash", "storing", "raised")
    assert squash.score.sound[at(place, 6, 1)] >= least


def test_hot_nights_still_cost_squash() -> None:
    squash = sown_for("tampa", "winter-squash", "storing", "raised")
    assert squash.score.sound[at("tampa", 6, 1)] < 0.6


@pytest.mark.parametrize("crop", ["beetroot", "swede", "turnip", "main-carrot"])
def test_roots_of_autumn_keep_through_the_winter(crop: str) -> None:
    """Three to six months cold and damp (umassstorage); beetroot was held to keep seven weeks."""
    assert load_catalogue().crop(crop).harvest.store_weeks >= 3 * 4.3
