"""Turnip and mustard greens, leaf amaranth, edamame and peanuts: where and when they are grown.

The places are real, their weather made of the packaged normals. Where growers have them is common knowledge
of the trade, no source, but where a test names one."""

from __future__ import annotations

import pytest
from real_places import at, grown, offered


def success(place: str, crop: str, month: int, day: int) -> float:
    return max(float(made.score.success[at(place, month, day)]) for made in grown(place, crop))


@pytest.mark.parametrize("crop", ["turnip-greens", "mustard-greens"])
@pytest.mark.parametrize("place", ["memphis", "savannah", "atlanta"])
def test_the_south_has_its_greens_in_spring_and_again_in_autumn(place: str, crop: str) -> None:
    assert offered(place, crop, 3, 15)
    assert offered(place, crop, 9, 10)
    assert not any(offered(place, crop, *day) for day in ((6, 1), (6, 20), (7, 10)))


@pytest.mark.parametrize("crop", ["turnip-greens", "mustard-greens"])
def test_the_gulf_sows_greens_through_the_winter(crop: str) -> None:
    assert all(offered("mobile", crop, *day) for day in ((9, 25), (11, 1), (2, 1)))


def test_the_hot_wet_tropics_sow_turnip_greens_never_and_mustard_in_their_coolest_months() -> None:
    assert not any(made.windows for made in grown("lagos", "turnip-greens"))
    assert offered("lagos", "mustard-greens", 7, 1)
    assert not any(offered("lagos", "mustard-greens", month, 15) for month in (1, 2, 3, 4))


def test_mustard_runs_up_in_long_days() -> None:
    """It bolts fast as the days lengthen (victorymustard): at 53° N it is sown early or after midsummer."""
    full = [made for made in grown("dublin", "mustard-greens") if made.outcome.purpose.name == "fresh"]
    days = {(month, day): at("dublin", month, day) for month, day in ((4, 10), (5, 25), (7, 10))}
    held = {when: any(one.opens <= day <= one.closes for made in full for one in made.windows)
            for when, day in days.items()}  # fmt: skip
    assert held == {(4, 10): True, (5, 25): False, (7, 10): True}


def test_amaranth_is_the_green_of_heat() -> None:
    """Where spinach fails, hot and humid or hot and dry."""
    assert all(offered("lagos", "amaranth", month, 15) for month in range(1, 13))
    assert all(offered("delhi", "amaranth", month, 15) for month in range(3, 10))
    assert all(offered("memphis", "amaranth", month, 1) for month in (5, 6, 7, 8))
    assert not any(offered("memphis", "spinach", month, 1) for month in (6, 7, 8))


def test_amaranth_sulks_in_the_open_where_summers_are_cool() -> None:
    assert not any(offered("reykjavik", "amaranth", month, 15) for month in range(1, 13))
    assert not any(offered("edinburgh", "amaranth", month, 15, "direct") for month in range(1, 13))
    assert any(made.windows for made in grown("edinburgh", "amaranth", "tunnel"))


def test_edamame_follows_the_beans() -> None:
    """The Middle West and New Jersey sow it from late May (hunterdonsoy); Ireland wants a tunnel."""
    assert all(offered("chicago", "edamame", *day) for day in ((5, 25), (6, 10)))
    assert not offered("chicago", "edamame", 8, 1)
    assert not any(made.windows for made in grown("dublin", "edamame"))
    assert any(made.windows for made in grown("dublin", "edamame", "tunnel"))


@pytest.mark.parametrize("place", ["suffolk", "memphis", "savannah"])
def test_where_peanuts_are_a_field_crop_most_years_give_them(place: str) -> None:
    """Virginia digs them after 130 to 150 days, sown in May (oakes2020): what is not quite ripe is dug before
    the frost that kills its tops, as tubers are (O19)."""
    assert success(place, "peanut", 5, 10) >= 0.8
    assert offered(place, "peanut", 5, 10)


@pytest.mark.parametrize("place", ["dublin", "edinburgh", "winnipeg", "reykjavik"])
def test_cool_gardens_are_offered_no_peanuts_in_the_open(place: str) -> None:
    assert not any(made.windows for made in grown(place, "peanut"))


def test_peanuts_are_dug_in_the_rains_end_in_zimbabwe_and_never_planted_for_its_winter() -> None:
    assert offered("harare", "peanut", 10, 10)
    assert not any(offered("harare", "peanut", month, 15) for month in (2, 3, 4, 5, 6))


def test_short_summers_have_early_peanuts_alone_in_the_open() -> None:
    told = {made.outcome.purpose.name for made in grown("chicago", "peanut") if made.windows}
    assert told == {"early kinds"}
