"""What stands through the winter in the open from small seed (docs/design/outlook.md, O21)."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from real_places import at, grown, offered

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.service.windows import calendars, windows, year_weather

BRIZE, RECORD = Site("Brize Norton", 51.758, -1.578), WeatherChoice(packaged="brize_norton")
YEAR = 2027


def best(crop: str, month: int, day: int, cover: str = "open") -> float:
    """The best score of any way and purpose on a day."""
    here = year_weather(BRIZE, RECORD, YEAR, DEFAULT_SEED)
    sown = day_number(date(YEAR, month, day)) - here.start
    found = calendars([load_catalogue().crop(crop)], (cover,), here, DEFAULT_SEED)  # type: ignore[arg-type]
    return float(np.max([made.score.score[sown] for made in found]))


@pytest.mark.parametrize("crop", ["onion", "spring-onion", "early-carrot", "kale", "chard", "spinach"])
def test_small_seed_is_not_sown_in_the_open_in_november(crop: str) -> None:
    """It would stand through the winter as a seedling (territorial2018, pfi2024)."""
    assert best(crop, 11, 15) < 0.35


@pytest.mark.parametrize("crop", ["broad-bean", "garlic", "onion-sets", "pea"])
def test_large_seed_sets_and_cloves_are(crop: str) -> None:
    """Common practice, no source."""
    assert best(crop, 11, 5) >= 0.5


def test_onions_and_spinach_sown_by_early_september_winter_well() -> None:
    assert best("onion", 8, 25) >= 0.6
    assert best("spinach", 9, 10) >= 0.6


@pytest.mark.parametrize("place", ["ulm", "auray"])
@pytest.mark.parametrize(("month", "day"), [(8, 20), (9, 10)])
def test_lambs_lettuce_is_sown_for_the_winter(place: str, month: int, day: int) -> None:
    """In August and September in Germany (gardenamache), from mid-August in Brittany (auray)."""
    assert offered(place, "lambs-lettuce", month, day)


def test_what_bears_all_that_winters_bring_does_not_race_the_first_hard_frost() -> None:
    """Lamb's lettuce, which bears −15 °C (reimer); leaf lettuce, which bears 9 less, is too late by then."""
    assert offered("chicago", "lambs-lettuce", 9, 1)
    assert offered("chicago", "leaf-lettuce", 8, 20)
    assert not offered("chicago", "leaf-lettuce", 9, 20)


@pytest.mark.parametrize(("crop", "day"), [("winter-cabbage", (4, 28)), ("kale", (5, 8))])
def test_nothing_is_raised_in_january_for_the_winter_after(crop: str, day: tuple[int, int]) -> None:
    """Dublin's warmest weeks have 15.5 °C: counted from 14.5, its winter began in August (common practice,
    no source). The window opens on 20 to 25 April, kale's on 4 May, by the draw of the years."""
    asked = [made for made in grown("dublin", crop)
             if (made.outcome.way.name, made.outcome.purpose.name) == ("raised", "winter use")]
    assert len(asked) == 1
    assert not asked[0].score.worth[at("dublin", 1, 28)]
    assert asked[0].score.worth[at("dublin", *day)]


def test_what_is_ready_in_november_and_left_till_spring_has_overwintered() -> None:
    """Spinach of mid-September at Brize Norton: begun before the New Year in most years, and picked on."""
    here = year_weather(BRIZE, RECORD, YEAR, DEFAULT_SEED)
    sown = day_number(date(YEAR, 9, 15)) - here.start
    made = next(each for each in calendars([load_catalogue().crop("spinach")], ("open",), here, DEFAULT_SEED)
                if each.outcome.purpose.name == "overwintering")
    new_year = day_number(date(YEAR + 1, 1, 1)) - here.start
    begun = made.outcome.first[:, sown] < new_year
    assert begun.mean() > 0.5
    assert made.outcome.last[begun, sown].mean() > new_year + 45
    assert made.score.worth[sown]


def test_a_cold_tunnel_is_sown_on() -> None:
    """coleman2011: lettuce for the winter is sown in a cold tunnel to the end of November."""
    assert best("spinach", 11, 15, "tunnel") >= 0.5


def test_mild_winters_ask_nothing() -> None:
    """Near Melbourne onions go in from seed in winter (common practice, no source)."""
    rows = windows(Site("Melbourne", -37.8, 144.96), WeatherChoice(), ["onion"], ("open",), YEAR).windows
    assert any(row.all_year or row.opens <= (6, 1) <= row.closes for row in rows)


@pytest.mark.parametrize("crop", ["onion", "onion-sets", "main-potato"])
def test_nothing_to_be_stored_stands_the_winter_under_cover(crop: str) -> None:
    """Common practice, no source. Sown on 10 October a quarter and more would live to be picked in a
    tunnel at Cork."""
    day = at("cork", 10, 10)
    stored = [made for made in grown("cork", crop, "tunnel") if made.outcome.purpose.name == "storing"]
    assert stored
    assert all(made.score.success[day] > 0.25 for made in stored)
    assert all(made.score.score[day] == 0.0 for made in stored)


def test_garlic_does() -> None:
    assert all(made.score.worth[at("cork", 10, 10)] for made in grown("cork", "garlic", "tunnel"))


@pytest.mark.parametrize(("crop", "early", "month", "day"), [
    ("broad-bean", 15, 10, 20), ("broad-bean", 20, 11, 10), ("pea", 20, 10, 25),
])  # fmt: skip
def test_what_flowers_before_the_winter_does_not_bear_after_it(
    crop: str, early: int, month: int, day: int
) -> None:
    """Beans and peas winter as young plants (unip2012); those of September were to stand in flower through it
    and be picked in June."""
    assert not offered("dublin", crop, 9, early)
    assert offered("dublin", crop, month, day)


@pytest.mark.parametrize("place", ["seville", "houston"])
def test_where_winters_are_mild_they_flower_through_it(place: str) -> None:
    assert offered(place, "broad-bean", 10, 25)
