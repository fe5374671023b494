"""Time to spare before the usual first frost (docs/design/outlook.md, O18)."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.first_frost import (
    FROST,
    LIGHT_FREEZE,
    SEVERE_FREEZE,
    level_of,
    races_frost,
    usual_frosts,
)
from evenpick.outlook.outcome import HARD_FREEZE
from evenpick.outlook.setting import Setting, Settings
from evenpick.service.windows import calendars, year_weather

YEAR = 2027


def place(lat: float, lon: float, packaged: str | None = None) -> Settings:
    choice = WeatherChoice(packaged=packaged) if packaged else WeatherChoice()
    return Settings(year_weather(Site("somewhere", lat, lon), choice, YEAR, DEFAULT_SEED))


def frosts(settings: Settings, level: float, month: int, day: int) -> date | None:
    here = settings.cover("open")
    asked = (date(YEAR, month, day) - day_date(settings.weather.start)).days
    found = int(usual_frosts(here, level)[asked])
    return None if found == here.days else day_date(settings.weather.start + found)


def first_by_year(here: Setting, level: float, start: int) -> list[int]:
    """The plain way: year by year, day by day."""
    found = []
    for year in here.air.tmin:
        days = [day for day in range(start, start + 300) if year[day] < level]
        found.append(days[0] if days else here.days)
    return sorted(found)


@pytest.mark.parametrize("level", [FROST, HARD_FREEZE, SEVERE_FREEZE])
def test_half_of_the_years_have_had_frost_by_the_usual_first(level: float) -> None:
    settings = place(42.95, -87.9, "milwaukee")
    here = settings.cover("open")
    july = (date(YEAR, 7, 20) - day_date(settings.weather.start)).days
    by_year = first_by_year(here, level, july)
    usual = int(usual_frosts(here, level)[july])
    assert sum(day <= usual for day in by_year) * 2 >= len(by_year)
    assert sum(day < usual for day in by_year) * 2 <= len(by_year)


def test_spring_and_summer_days_look_to_the_same_frost_and_the_axis_wraps_to_none_of_its_own() -> None:
    settings = place(51.758, -1.578, "brize_norton")
    april, july = frosts(settings, FROST, 4, 1), frosts(settings, FROST, 7, 20)
    assert april == july
    following = np.diff(usual_frosts(settings.cover("open"), FROST))
    assert (following >= 0).all()


def test_a_winter_without_frost_asks_nothing() -> None:
    assert frosts(place(1.35, 103.9), FROST, 7, 1) is None


def test_the_southern_frost_is_in_winter() -> None:
    usual = frosts(place(-45.9, 170.5), FROST, 2, 1)  # Dunedin
    assert usual is not None
    assert date(YEAR, 4, 1) <= usual <= date(YEAR, 8, 15)


def test_the_hardier_the_crop_the_harder_the_frost_it_races() -> None:
    levels = {crop.key: level_of(crop) for crop in load_catalogue().crops}
    assert levels["dwarf-bean"] == levels["courgette"] == levels["sweetcorn"] == FROST
    assert levels["calabrese"] == levels["cos-lettuce"] == levels["pea"] == LIGHT_FREEZE
    assert levels["chard"] == levels["beetroot"] == levels["radish"] == HARD_FREEZE
    assert levels["kale"] == levels["brussels-sprout"] == SEVERE_FREEZE


def test_what_stands_the_winter_or_waits_for_it_is_not_asked() -> None:
    catalogue = load_catalogue()
    assert not any(races_frost(catalogue.crop(key), purpose)
                   for key in ("garlic", "onion", "leek", "sprouting-broccoli")
                   for purpose in catalogue.crop(key).purposes)  # fmt: skip
    pea = catalogue.crop("pea")
    assert {p.name: races_frost(pea, p) for p in pea.purposes} == {"fresh": True, "overwintering": False}


def test_the_last_beans_have_six_weeks_before_the_frost() -> None:
    """A month of picking and two weeks to spare (fallformula), by the median year."""
    site, choice = Site("Milwaukee", 42.95, -87.9), WeatherChoice(packaged="milwaukee")
    weather = year_weather(site, choice, YEAR, DEFAULT_SEED)
    (made,) = calendars([load_catalogue().crop("dwarf-bean")], ("open",), weather, DEFAULT_SEED)
    last = made.windows[-1].closes
    picked = day_date(weather.start + last) + timedelta(days=float(made.score.days[50][last]))
    usual = frosts(Settings(weather), FROST, 7, 20)
    assert usual is not None
    assert usual - picked >= timedelta(days=28 + 14)
