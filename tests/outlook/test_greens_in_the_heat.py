"""Leaf that grows on through warm summers and in the lowland tropics (docs/design/outlook.md, O6)."""

from __future__ import annotations

import pytest
from real_places import at, grown, offered


@pytest.mark.parametrize("place", ["omaha", "belgrade"])
def test_chard_is_the_leaf_of_a_warm_summer(place: str) -> None:
    """It grows through the season in Kansas in many years (kstatechard), where it is warmer than here."""
    assert all(offered(place, "chard", month, 1) for month in (5, 6, 7))


def test_chard_is_sown_through_the_summer_of_a_warm_coast() -> None:
    """Of the two times at which South Africa sows it one begins in January (southafricachardplanting)."""
    assert all(offered("durban", "chard", month, 15) for month in range(1, 13))


@pytest.mark.parametrize("place", ["singapore", "manila"])
def test_no_chard_in_the_lowland_tropics(place: str) -> None:
    assert not any(made.windows for made in grown(place, "chard"))


def test_parsley_of_spring_stands_a_warm_summer() -> None:
    assert offered("omaha", "parsley", 5, 10, "direct")
    made = next(each for each in grown("omaha", "parsley") if each.outcome.way.name == "direct")
    assert made.score.sound[at("omaha", 4, 15)] > 0.75


def test_parsley_of_spring_does_not_stand_the_summer_of_the_gulf() -> None:
    """Quality goes down by mid-June at New Orleans (gillparsley)."""
    assert not any(offered("new orleans", "parsley", month, 1, "direct") for month in (5, 6, 7))
    assert offered("new orleans", "parsley", 10, 1, "direct")


def test_mustard_greens_in_the_cooler_months_of_the_lowland_tropics() -> None:
    """In the tropics they do best in the lowland (ecocrop)."""
    assert offered("manila", "mustard-greens", 12, 15)


def test_mustard_greens_run_to_seed_in_long_days_all_the_same() -> None:
    assert not offered("memphis", "mustard-greens", 6, 15)


def test_pak_choi_in_the_dry_season_of_the_lowland_tropics() -> None:
    """Grown there all the year, best in the dry season (balinkbayanpechay)."""
    assert offered("manila", "pak-choi", 12, 1)


def test_no_pak_choi_in_the_hottest_months() -> None:
    for place, month in (("phoenix", 6), ("delhi", 5), ("lahore", 6)):
        assert not offered(place, "pak-choi", month, 15), place
