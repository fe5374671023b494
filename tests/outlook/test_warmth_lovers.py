"""Okra, melons, sweet potatoes, yard-long beans, cowpeas and butter beans: where they are grown, where
they are not, and that none sits a cool season out to fruit after it (docs/design/outlook.md, O10).

The places are real, their weather made of the packaged normals. Where they do is common knowledge of the
trade, no source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from real_places import at, grown, offered, weather

from evenpick.base.chance import DEFAULT_SEED
from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.windows import Calendar
from evenpick.service.windows import calendars

CROPS = ("okra", "melon", "watermelon", "sweet-potato", "yardlong-bean", "southern-pea")
NEEDY = [crop.key for crop in load_catalogue().crops if crop.limits.fill_mean is not None]


@pytest.mark.parametrize("crop", CROPS)
@pytest.mark.parametrize("place", ["atlanta", "houston", "seville"])
def test_warm_gardens_have_them(place: str, crop: str) -> None:
    assert offered(place, crop, 5, 20)


@pytest.mark.parametrize("crop", [*CROPS, "lima-bean"])
@pytest.mark.parametrize("place", ["cork", "edinburgh", "reykjavik"])
def test_cool_gardens_are_not_offered_them_in_the_open(place: str, crop: str) -> None:
    assert not any(made.windows for made in grown(place, crop))


@pytest.mark.parametrize("crop", CROPS)
def test_the_wet_tropics_sow_them_all_year(crop: str) -> None:
    assert all(offered("singapore", crop, month, 15) for month in range(1, 13))


@pytest.mark.parametrize("crop", [*CROPS, "lima-bean"])
def test_frost_keeps_them_out_of_winter(crop: str) -> None:
    assert not any(offered("atlanta", crop, month, 15, way) for month in (11, 12, 1)
                   for way in ("direct", "planted"))  # fmt: skip


@pytest.mark.parametrize("crop", ["okra", "melon"])
def test_the_desert_picks_melons_before_and_after_its_worst_heat_and_okra_through_it(crop: str) -> None:
    """Flowers of melons fail over 37.5 °C (bigpumpkins2016), of okra over 42 (agristudyhub). No frost is
    usual: the melons' second season is too late from 18 to 23 August, by the draw of the years."""
    assert offered("phoenix", crop, 3, 20)
    assert offered("phoenix", crop, 8, 12)
    assert offered("phoenix", crop, 6, 1) == (crop == "okra")


def test_butter_beans_set_no_pods_in_hot_nights() -> None:
    """Nights over 75 °F break the setting off (udellimaheat2019): Houston has a spring and an autumn season
    with its hot nights between, and cowpeas in them; Atlanta's nights are cooler."""
    assert offered("houston", "lima-bean", 3, 20)
    assert offered("houston", "lima-bean", 8, 25)
    assert not any(offered("houston", "lima-bean", *day) for day in ((5, 15), (6, 15), (7, 1)))
    assert all(offered("houston", "southern-pea", *day) for day in ((5, 15), (6, 15), (7, 1)))
    assert all(offered("atlanta", "lima-bean", *day) for day in ((5, 1), (6, 1), (7, 1)))


@pytest.mark.parametrize("crop", ["southern-pea", "lima-bean"])
def test_the_middle_west_has_early_summer_for_them(crop: str) -> None:
    """Fargo, farther north, has both maturity tables' limas (ndsuh912)."""
    assert offered("chicago", crop, 6, 5)
    assert not offered("chicago", crop, 4, 25)
    assert not offered("chicago", crop, 8, 1)


def open_grown(place: str, key: str, fill_mean: float | None) -> tuple[Calendar, ...]:
    crop = load_catalogue().crop(key)
    crop = replace(crop, limits=replace(crop.limits, fill_mean=fill_mean))
    return calendars([crop], ("open",), weather(place), DEFAULT_SEED)


def test_those_that_need_warmth() -> None:
    """Least mean for growth and quality (knott1997), of sweet potatoes for their roots (udelsweet); of
    cowpeas that below which yield is hurt (vikaspediapea), of butter beans and peanuts growth (winch2006,
    clemsonpeanut), of basil that below which it suffers (genovesestorico); of
    Malabar spinach from the nights it does not do well in (bhgbasella), of water spinach between what is
    too slow to sell (fpikangkong) and the foot of its best (gardeningtipskangkong)."""
    assert NEEDY == ["malabar-spinach", "sweet-potato", "water-spinach", "melon", "watermelon",
                     "southern-pea", "lima-bean", "peanut", "basil", "okra"]
    fills = {key: load_catalogue().crop(key).limits.fill_mean for key in NEEDY}
    assert fills == {"malabar-spinach": 18.0, "sweet-potato": 12.8, "melon": 15.6, "watermelon": 18.3,
                     "okra": 18.3, "water-spinach": 21.5,
                     "southern-pea": 15.0, "lima-bean": 13.0, "peanut": 15.6, "basil": 16.0}


@pytest.mark.parametrize("key", ["okra", "watermelon"])
def test_none_sits_a_cool_season_out(key: str) -> None:
    """Auckland has no frost to end them: sown late in summer they were to be picked the summer after."""
    late = at("auckland", 3, 15)
    for made in calendars([load_catalogue().crop(key)], ("open",), weather("auckland"), DEFAULT_SEED):
        outcome = made.outcome
        picked = outcome.share[:, late] > 0
        assert not picked.any(), made.outcome.way
    waits = [made.outcome for made in open_grown("auckland", key, None) if made.outcome.way.name == "direct"]
    assert any((each.share[:, late] > 0).any() for each in waits)


def test_fruit_ends_where_it_no_longer_fills() -> None:
    """Watermelons at Chicago: at 18.3 °C, not at the 14.3 of tomatoes."""
    own, usual = (open_grown("chicago", "watermelon", fill) for fill in (18.3, None))
    day = at("chicago", 5, 25)
    last = [
        np.median(next(m.outcome for m in made if m.outcome.way.name == "raised").last[:, day])
        for made in (own, usual)
    ]
    assert last[0] < last[1]
