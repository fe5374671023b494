"""Where the season is only just long enough (outlook.md, O11, O18). Common practice, no source."""

from __future__ import annotations

import numpy as np
import pytest
from real_places import at, grown, offered

from evenpick.outlook.first_frost import seasons
from evenpick.outlook.score import LEVERAGE, LEVERAGE_DAYS, SUCCEEDS_IN_HASTE, WAITING_COSTS
from evenpick.outlook.windows import YEAR


@pytest.mark.parametrize(("month", "day"), [(3, 10), (3, 25), (4, 10), (4, 25)])
def test_waiting_that_loses_years_does_cost_something(month: int, day: int) -> None:
    """Aubergines are raised eight to ten weeks before it is warm; all that is sown in March at Boston waits
    for the same warm ground, but what is sown in May is oftener cut off by frost."""
    assert offered("boston", "aubergine", month, day)
    assert not offered("boston", "aubergine", 1, 15)


def test_it_is_the_years_lost_that_tell() -> None:
    (made,) = grown("boston", "aubergine")
    for month, day in ((3, 20), (4, 10)):
        sown = at("boston", month, day)
        lost = made.score.success[sown - LEVERAGE_DAYS // 2] - made.score.success[sown + LEVERAGE_DAYS // 2]
        assert made.score.leverage[sown] < LEVERAGE[0]
        assert lost >= WAITING_COSTS


@pytest.mark.parametrize(("place", "crop", "sown", "too_late"), [
    ("calgary", "dwarf-bean", (6, 1), (6, 25)), ("auckland", "aubergine", (9, 15), (11, 15)),
])
def test_a_season_with_no_time_to_spare_is_still_one(
    place: str, crop: str, sown: tuple[int, int], too_late: tuple[int, int]
) -> None:
    """No sowing is picked over a fortnight before the end; growers sow on the best days all the same."""
    assert offered(place, crop, *sown)
    assert not offered(place, crop, *too_late)
    made = next(one for one in grown(place, crop) if one.windows)
    assert all(made.score.sound[window.opens] >= SUCCEEDS_IN_HASTE for window in made.windows)


def test_where_hardly_a_year_succeeds_there_is_none() -> None:
    """Tomatoes in the open at Calgary."""
    assert not any(made.windows for made in grown("calgary", "tomato"))


@pytest.mark.parametrize("crop", ["kale", "brussels-sprout"])
def test_what_has_a_season_is_not_raised_at_midwinter_to_be_eaten_fresh(crop: str) -> None:
    """Cork: kale and sprouts for summer and autumn are raised from the end of February, and are no later."""
    fresh = next(made for made in grown("cork", crop)
                 if made.outcome.purpose.name == "fresh" and made.outcome.way.name == "raised")
    for month, day, good in ((12, 20, False), (1, 15, False), (3, 15, True)):
        sown = at("cork", month, day)
        assert any(window.opens <= each <= window.closes for window in fresh.windows
                   for each in (sown, sown + YEAR)) is good


def test_a_bench_is_not_filled_before_christmas() -> None:
    """Leaf lettuce raised in the middle of December at Norwich is picked with that of February; from when on
    it is worth it moves with the draw of the years (31 January to 19 February in five)."""
    for month, day in ((12, 15), (1, 5)):
        assert not offered("norwich", "leaf-lettuce", month, day, "raised")
    assert offered("norwich", "leaf-lettuce", 2, 25, "raised")


@pytest.mark.parametrize(("place", "day"), [("quebec", (5, 15)), ("quebec", (5, 30)), ("winnipeg", (5, 28))])
def test_tubers_are_lifted_in_one_go(place: str, day: tuple[int, int]) -> None:
    """They are safe under tops that a frost has killed, so that no weeks of picking are asked for before it:
    maincrop potatoes were not to be planted at Quebec at all (common practice, no source)."""
    assert offered(place, "main-potato", *day)


@pytest.mark.parametrize(("place", "crop", "day"), [
    ("oklahoma city", "early-carrot", (8, 15)), ("oklahoma city", "turnip", (8, 28)),
    ("oklahoma city", "kohlrabi", (8, 20)), ("tbilisi", "cos-lettuce", (8, 15)),
])  # fmt: skip
def test_a_short_autumn_is_a_season_of_its_own(place: str, crop: str, day: tuple[int, int]) -> None:
    """Between the heat and the frost few days leave time to spare, and growers take the best; that spring has
    time enough is nothing to autumn."""
    assert offered(place, crop, *day)


def test_a_season_round_the_new_year_is_one() -> None:
    good = np.zeros(40, dtype=bool)
    good[[*range(5), *range(15, 20), *range(24, 28), *range(35, 40)]] = True
    assert [season.tolist() for season in seasons(good)] == [
        [35, 36, 37, 38, 39, 0, 1, 2, 3, 4], list(range(15, 28)),
    ]  # fmt: skip
