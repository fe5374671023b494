"""What every grower knows at 51 to 52° N in a mild maritime climate: "common practice, no source".

Median days of the packaged Brize Norton record (1981 to 2020), through the services a grower asks.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.service.outlook import outlook
from evenpick.service.windows import calendars, windows, year_weather

SITE, WEATHER = Site("Brize Norton", 51.758, -1.578), WeatherChoice(packaged="brize_norton")
YEAR = 2027


def picked(crop: str, month: int, day: int, cover: str = "open") -> date:
    """The date as likely before as after which the first is picked."""
    sow = date(YEAR, month, day)
    answer = outlook(SITE, WEATHER, crop, sow, cover)
    assert answer.first_picking is not None
    return sow + timedelta(days=round(answer.first_picking.likely))


def closing(crop: str, cover: str = "open") -> list[tuple[int, int]]:
    return [row.closes for row in windows(SITE, WEATHER, [crop], (cover,), YEAR).windows]  # type: ignore[arg-type]


@pytest.mark.parametrize("day", [1, 10, 20, 30])
def test_radish_sown_in_june_is_ready_in_three_to_four_weeks(day: int) -> None:
    assert 21 <= (picked("radish", 6, day) - date(YEAR, 6, day)).days <= 28


@pytest.mark.parametrize("day", [1, 10, 20, 30])
def test_sprouting_broccoli_sown_in_june_is_picked_from_february_to_april(day: int) -> None:
    assert date(YEAR + 1, 2, 1) <= picked("sprouting-broccoli", 6, day) <= date(YEAR + 1, 4, 30)


@pytest.mark.parametrize("day", [1, 10, 20, 30])
def test_calabrese_sown_in_june_is_picked_from_the_end_of_summer_to_early_autumn(day: int) -> None:
    assert date(YEAR, 8, 10) <= picked("calabrese", 6, day) <= date(YEAR, 10, 10)


@pytest.mark.parametrize("day", [10, 15, 20])
def test_peas_sown_in_a_tunnel_in_mid_march_are_picked_in_june(day: int) -> None:
    assert date(YEAR, 6, 1) <= picked("pea", 3, day, "tunnel") <= date(YEAR, 6, 30)


def test_swede_is_too_late_in_the_first_half_of_july() -> None:
    """Its window is closed by 1 July, and most sowings of the 8th are not full grown by mid-January."""
    assert all(month_day < (7, 1) for month_day in closing("swede"))
    weather = year_weather(SITE, WEATHER, YEAR, DEFAULT_SEED)
    (made,) = calendars([load_catalogue().crop("swede")], ("open",), weather, DEFAULT_SEED)
    sown, winter = (day_number(day) - weather.start for day in (date(YEAR, 7, 8), date(YEAR + 1, 1, 15)))
    grown = (made.outcome.first[:, sown] < winter) & (made.outcome.share[:, sown] > 0.99)
    assert grown.mean() < 0.5


def test_fates_are_shares() -> None:
    answer = outlook(SITE, WEATHER, "radish", date(YEAR, 6, 10))
    assert sum(share for _, share in answer.fates) == pytest.approx(1)
    assert dict(answer.fates)["good"] > 0.9


@pytest.mark.parametrize(
    "place", [Site("Seville", 37.39, -5.98, 30.0), Site("Houston", 29.98, -95.36)], ids=str
)
def test_nothing_cool_is_sown_in_june_where_july_is_hot(place: Site) -> None:
    """Lettuce, kale, cabbage and calabrese are raised from August on there."""
    keys = ("crisp-lettuce", "cos-lettuce", "kale", "summer-cabbage", "calabrese")
    weather = year_weather(place, WeatherChoice(), YEAR, DEFAULT_SEED)
    june = [day_number(date(YEAR, 6, day)) - weather.start for day in range(1, 31)]
    for made in calendars([load_catalogue().crop(key) for key in keys], ("open",), weather, DEFAULT_SEED):
        sown = [day for window in made.windows for day in range(window.opens, window.closes + 1)]
        assert not set(sown) & set(june), (made.outcome.crop.key, made.outcome.way.name)
