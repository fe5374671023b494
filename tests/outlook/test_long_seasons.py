"""A long warm season has a best time, and mild autumns go on past their first frosts (docs/design/outlook.md,
O7 and O18). The places are real, their weather made of the packaged normals."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from real_places import at, grown, offered, open_air

from evenpick.base.arrays import Floats
from evenpick.base.terms import REASONS
from evenpick.outlook.against import TOO_COOL
from evenpick.outlook.first_frost import COOL, FROST, WARM, usual_frosts
from evenpick.outlook.neighbours import NEIGHBOURS, OF_SEASON, VALLEY, best_about, best_of_season
from evenpick.outlook.outcome import FATE_WORDS, HARD_FREEZE
from evenpick.outlook.usual_year import usual_mean
from evenpick.outlook.windows import YEAR


def of_seasons(raw: Floats) -> Floats:
    return best_of_season(raw, np.arange(raw.size))


def test_one_season_has_one_best_and_a_worse_time_parts_two() -> None:
    rising = np.linspace(0.4, 1.0, 200)
    assert (of_seasons(rising) == 1.0).all()
    two = np.concatenate([np.linspace(0.3, 0.6, 60), np.linspace(0.6, 0.2, 60), np.linspace(0.2, 1.0, 80)])
    best = of_seasons(two)
    assert best[59] == 0.6  # of spring, with summer between it and autumn
    assert best[199] == 1.0
    shallow = np.concatenate([np.full(50, 0.6), np.full(5, 0.6 * VALLEY + 1e-9), np.full(50, 1.0)])
    assert of_seasons(shallow)[0] == 1.0  # nobody calls that the end of a season
    assert np.array_equal(best_of_season(two, np.array([5, 59])), best[[5, 59]])


def test_what_frost_kills_is_held_against_its_season_and_the_rest_against_their_neighbours() -> None:
    raw = np.concatenate([np.full(100, 0.55), np.linspace(0.55, 1.0, 100), np.full(100, 1.0)])
    hardy, tender = best_about(raw, None, tender=False), best_about(raw, None, tender=True)
    first = 100 - NEIGHBOURS - 1  # its neighbours are all alike
    assert hardy[first] == 0.55
    assert tender[first] == pytest.approx(OF_SEASON)


@given(arrays(np.float64, st.integers(1, 40), elements=st.floats(0, 1)))
def test_the_best_of_a_season_is_found_as_by_walking_there(raw: Floats) -> None:
    for day, best in enumerate(of_seasons(raw)):
        reached = raw[day]
        for steps in (range(day + 1, raw.size), range(day - 1, -1, -1)):
            for step in steps:
                if raw[step] < VALLEY * raw[day]:
                    break
                reached = max(reached, raw[step])
        assert best == reached


def test_the_year_is_round_for_seasons_too() -> None:
    (beans,) = grown("san diego", "dwarf-bean")
    score = beans.score.score
    assert np.abs(np.diff(score)).max() < 0.1  # no step where the axis ends
    # what is good comes round only 140 days later, past the end of the axis
    raw = np.concatenate([np.full(150, 1.0), np.full(50, 0.1), np.full(190, 0.5)])
    assert best_about(raw, YEAR, tender=True)[250] == OF_SEASON
    assert best_about(raw, None, tender=True)[250] == 0.5


@pytest.mark.parametrize(("crop", "month", "day"), [("tomato", 11, 5), ("dwarf-bean", 12, 31)])
def test_a_winter_sowing_that_spring_ones_catch_up_is_not_offered_at_san_diego(
    crop: str, month: int, day: int
) -> None:
    """uccesandiego: snap beans from mid-March, tomato plants from March; plants of 5 November would go
    out at midwinter."""
    assert not offered("san diego", crop, month, day)
    assert offered("san diego", crop, 4, 15)


def test_spring_and_autumn_stay_two_seasons_where_summer_is_too_hot() -> None:
    """Seville's corn and beans of March are not held against those of July (common practice, no source)."""
    for crop, day in (("sweetcorn", 30), ("dwarf-bean", 20)):
        assert offered("seville", crop, 3, day, "direct")
        assert not offered("seville", crop, 6, 10, "direct")
        assert offered("seville", crop, 8, 1, "direct")


@pytest.mark.parametrize(("crop", "month", "day"), [("turnip", 8, 28), ("early-carrot", 8, 5)])
def test_frosts_of_mild_weeks_do_not_end_what_bears_them(crop: str, month: int, day: int) -> None:
    """rowan2025, Salisbury in North Carolina: carrots to 20 August, turnips to 20 September. Ours
    close between 29 August and 1 September, by the draw of the years."""
    assert offered("salisbury", crop, month, day)


def test_the_end_is_the_later_of_frost_and_cool_for_what_bears_frost_alone() -> None:
    here, august = open_air("salisbury"), at("salisbury", 8, 1)
    frost = int(usual_frosts(here, HARD_FREEZE)[august])
    end = int(usual_frosts(here, HARD_FREEZE, once_cool=True)[august])
    usual = usual_mean(here)
    assert end > frost
    assert usual[end] < COOL <= usual[end - 1]
    north, there = open_air("albany"), at("albany", 8, 1)
    late = int(usual_frosts(north, HARD_FREEZE)[there])
    assert usual_mean(north)[late] < COOL  # it is cool before: nothing changes
    assert usual_frosts(north, HARD_FREEZE, once_cool=True)[there] == late


def test_where_it_never_grows_cool_the_frost_alone_is_the_end() -> None:
    here, march = open_air("kapiti"), at("kapiti", 3, 1)
    assert usual_mean(here).min() > COOL
    both = usual_frosts(here, FROST), usual_frosts(here, FROST, once_cool=True)
    assert both[0][march] < here.days  # it has frost
    assert np.array_equal(*both)


@pytest.mark.parametrize(
    ("crop", "month", "day"), [("winter-squash", 8, 25), ("cucumber", 9, 20), ("dwarf-bean", 10, 1)]
)
def test_fruits_are_picked_over_before_it_grows_cool_where_no_frost_ends_them(
    crop: str, month: int, day: int
) -> None:
    """uccesandiego: pumpkins and squash to July, cucumbers to August, snap beans to August or September."""
    assert usual_frosts(open_air("san diego"), FROST)[0] == open_air("san diego").days
    assert not offered("san diego", crop, month, day)
    assert offered("san diego", crop, 6, 15)


def test_a_winter_that_never_grows_cool_is_no_end() -> None:
    """Beans and tomatoes go in through Miami's winter, which is its season (common practice, no source)."""
    assert usual_mean(open_air("miami")).min() > WARM
    assert all(offered("miami", "dwarf-bean", month, 1) for month in (11, 12, 1, 2))
    assert offered("miami", "tomato", 11, 1)
    for made in grown("miami", "dwarf-bean"):
        assert not {"too near winter", TOO_COOL} & set(made.score.against)


def test_where_no_frost_is_usual_what_it_kills_is_told_to_be_ripe_too_late() -> None:
    """A tomato of midsummer at San Diego is not told that it is near winter."""
    assert all(made.score.against[at("san diego", 7, 1)] == TOO_COOL for made in grown("san diego", "tomato"))


def test_what_speaks_against_a_day_is_frost_for_what_it_kills_and_winter_for_the_rest() -> None:
    against = {crop: {reason for made in grown("albany", crop) for reason in made.score.against}
               for crop in ("dwarf-bean", "turnip", "calabrese")}  # fmt: skip
    assert "too near the first frost" in against["dwarf-bean"]
    assert not {"too near winter", TOO_COOL} & against["dwarf-bean"]
    assert all("too near winter" in against[crop] for crop in ("turnip", "calabrese"))
    assert {reason for some in against.values() for reason in some} <= {"", *REASONS, *FATE_WORDS.values()}


@pytest.mark.parametrize("crop", ["pepper", "aubergine"])
def test_no_weeks_without_it_between_two_runs_that_ripen_together(crop: str) -> None:
    """Denver's peppers of early and of late April, raised in warmth, are planted out together: there is one
    window, not two with three weeks between in which waiting cost nothing."""
    assert [len(made.windows) for made in grown("denver", crop)] == [1]
