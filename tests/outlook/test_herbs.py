"""Basil, chillies, chives and Florence fennel: where and when they are grown.

The places are real, their weather made of the packaged normals. Where growers have them is common knowledge
of the trade, no source, but where a test names one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from real_places import at, grown, offered, weather

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import CoverName
from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.windows import Calendar
from evenpick.service.windows import calendars


def success(place: str, crop: str, month: int, day: int, cover: CoverName = "open") -> float:
    return max(float(made.score.success[at(place, month, day)]) for made in grown(place, crop, cover))


def with_limits(place: str, key: str, **limits: float | None) -> tuple[Calendar, ...]:
    crop = load_catalogue().crop(key)
    crop = replace(crop, limits=replace(crop.limits, **limits))
    return calendars([crop], ("open",), weather(place), DEFAULT_SEED)


def last_cut(made: tuple[Calendar, ...], day: int) -> float:
    outcome = next(each.outcome for each in made if each.outcome.way.name == "direct")
    return float(np.median(outcome.last[:, day]))


@pytest.mark.parametrize("place", ["reykjavik", "edinburgh", "dublin"])
def test_basil_wants_a_tunnel_where_summers_are_cool(place: str) -> None:
    """Growth slows below a mean of 15 °C and leaves are chilled in nights below 10 (biologybasil)."""
    assert not any(offered(place, "basil", month, day) for month in range(1, 13) for day in (1, 15))
    assert place == "reykjavik" or offered(place, "basil", 5, 15) or any(
        made.windows for made in grown(place, "basil", "tunnel")
    )


@pytest.mark.parametrize("place", ["rome", "memphis", "chicago"])
def test_warm_summers_have_basil_in_the_open(place: str) -> None:
    assert all(offered(place, "basil", *day) for day in ((5, 20), (6, 20)))
    assert not offered(place, "basil", 9, 20)


def test_basil_is_sown_in_pomerania_from_may_to_the_end_of_june() -> None:
    """kosecka2014: a crop from sowings of 6 May to 30 June, none from 22 April, nor from 14 and 28 July."""
    held = {when: success("szczecin", "basil", *when) for when in ((6, 2), (6, 16), (7, 28))}
    assert held[(6, 2)] >= 0.7
    assert held[(6, 16)] >= 0.7
    assert held[(7, 28)] < 0.3


def test_leaf_that_needs_warmth_is_cut_until_the_season_turns_too_cool() -> None:
    """O10: basil's last cut in Rome is in October, not when the frost comes."""
    day = at("rome", 7, 10)
    ends, waits = (last_cut(with_limits("rome", "basil", fill_mean=fill), day) for fill in (20.0, None))
    assert ends < waits


def test_the_highlands_of_kenya_sow_herbs_and_chillies_all_the_year() -> None:
    for crop in ("basil", "chives", "chilli"):
        assert all(offered("nairobi", crop, month, 15) for month in range(1, 13)), crop


@pytest.mark.parametrize("place", ["rome", "memphis"])
def test_chillies_are_raised_in_late_winter_and_planted_out_in_the_south(place: str) -> None:
    assert offered(place, "chilli", 3, 10)
    assert success(place, "chilli", 3, 10) >= 0.8
    assert not offered(place, "chilli", 8, 1)


@pytest.mark.parametrize("place", ["dublin", "edinburgh", "reykjavik"])
def test_cool_gardens_are_offered_no_chillies_in_the_open(place: str) -> None:
    assert not any(made.windows for made in grown(place, "chilli"))


def test_ireland_has_chillies_in_a_tunnel_as_it_has_peppers() -> None:
    both = [grown("dublin", crop, "tunnel") for crop in ("chilli", "pepper")]
    assert all(any(made.windows for made in each) for each in both)


def test_chillies_bear_the_heat_that_peppers_do_not() -> None:
    """knott1997: greatest mean for good growth 95 °F, of sweet peppers 80."""
    assert success("delhi", "chilli", 4, 1) > success("delhi", "pepper", 4, 1)
    assert offered("houston", "chilli", 5, 1)
    assert not offered("houston", "pepper", 5, 1)


@pytest.mark.parametrize("place", ["dublin", "winnipeg", "memphis", "rome"])
def test_chives_are_sown_in_spring_nearly_anywhere(place: str) -> None:
    assert offered(place, "chives", 5, 10)
    assert success(place, "chives", 5, 10) >= 0.9


def test_chives_sown_in_ireland_in_march_are_cut_in_summer_and_those_of_august_by_april() -> None:
    """europrisechives: how long seed may lie rests on it, the days to its leaf do not."""
    first = {}
    for month, purpose in ((3, "fresh"), (8, "overwintering")):
        made = next(
            each for each in grown("dublin", "chives")
            if each.outcome.purpose.name == purpose and each.outcome.way.name == "direct"
        )  # fmt: skip
        day = at("dublin", month, 25)
        first[month] = float(np.median(made.outcome.first[:, day])) - day
        last = float(np.median(made.outcome.last[:, day])) - day
        assert month == 3 or last > 220  # 1 April is the 219th day from 25 August
    assert 75 <= first[3] <= 130  # 8 June to 2 August
    assert success("dublin", "chives", 3, 25) >= 0.9


def test_chives_live_through_the_winter_of_the_prairies() -> None:
    """Hardy to zone 3 (loveourchives)."""
    assert success("winnipeg", "chives", 8, 25) >= 0.6


def test_fennel_is_sown_after_midsummer_where_summers_are_hot() -> None:
    assert offered("rome", "florence-fennel", 7, 15)
    assert not any(offered("rome", "florence-fennel", *day) for day in ((4, 20), (5, 10), (5, 25)))


def test_fennel_of_high_spring_bolts_more_than_that_of_summer() -> None:
    """Long days make it bolt (agrarfennel); sown after the solstice it seldom does (johnnysfennel)."""
    made = next(each for each in grown("rome", "florence-fennel") if each.outcome.way.name == "direct")
    success_of = made.score.success
    assert success_of[at("rome", 5, 1)] < success_of[at("rome", 7, 25)]


@pytest.mark.parametrize("place", ["dublin", "winnipeg"])
def test_cool_summers_have_fennel(place: str) -> None:
    assert offered(place, "florence-fennel", 5, 25)


def test_fennel_is_kept_out_of_a_hard_winter() -> None:
    assert not any(offered("winnipeg", "florence-fennel", month, 15, "direct") for month in (9, 10, 11))
