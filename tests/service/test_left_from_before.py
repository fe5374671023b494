"""What a sowing went without starts from ground as the rain of the year before leaves it (water.md, 22a)."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.outlook.rain_fed import yield_by_rain
from evenpick.outlook.setting import Settings
from evenpick.report.terminal import render
from evenpick.report.water import water_page
from evenpick.report.words import Words
from evenpick.service.outlook import asked
from evenpick.service.season_weather import season_weather
from evenpick.service.seedbeds import unwatered
from evenpick.service.water import FOLLOWED, LEAD, water
from evenpick.service.water_course import Sown, course
from evenpick.service.watered import wanted
from evenpick.soil.texture import soil_named

PUNE = Site("Pune", 18.52, 73.86, 554.0)
BRIZE = Site("Brize Norton", 51.758, -1.578, 82.0)
WORDS = Words("british", "metric", {}, {})


def test_ground_of_a_dry_season_was_not_full() -> None:
    """Okra set out at Pune in March, when no rain has fallen since October: its ground counted as full 120
    days before it was sown, so that it was told to have gone without no more than two fifths."""
    found = water(PUNE, WeatherChoice(), "okra", date(2027, 2, 10), on=date(2027, 5, 10), way="raised",
                  watered=False)
    assert found.left is not None
    assert found.left.short[0] > 0.7


@pytest.mark.parametrize(("site", "crop", "sow", "way"), [
    (BRIZE, "main-potato", date(2027, 4, 10), "planted"), (PUNE, "okra", date(2027, 10, 1), "raised"),
    (BRIZE, "beetroot", date(2027, 4, 20), "direct"),
])
def test_water_goes_without_what_the_plan_takes_off(site: Site, crop: str, sow: date, way: str) -> None:
    """One balance followed for one sowing, and that of all sow days at once: within a few hundredths, for the
    first has Kcb as the season's air moves it."""
    start, days = day_number(sow) - LEAD, LEAD + FOLLOWED
    season = season_weather(site, WeatherChoice(), start, days, {}, DEFAULT_SEED)
    settings = Settings(season.years, unwatered(site, Seedbed("loam", watered=False)))
    want = wanted(asked(crop, "open", None, None).crop, "open", way)  # type: ignore[arg-type]
    ones = np.ones((season.years.years, 1))
    made = course(Sown(want, LEAD, ones, watered=False), settings, site, soil_named("loam"))
    end = made.asked.shape[1] - 1 - (made.asked[:, ::-1] > 0).argmax(axis=1)  # lifted: what only lies is over
    begin, up, end = (each[:, None] for each in (made.begin, made.up, end))
    given = yield_by_rain(want.crop, settings, "open", begin, up, end)
    assert given is not None
    used = np.where(made.asked > 0, made.balance.transpiration + made.balance.evaporation, 0.0).sum(axis=1)
    ky = 1.1 if crop == "main-potato" else 1.0
    told = 1.0 - ky * (1.0 - used / made.asked.sum(axis=1))
    assert np.median(np.abs(told - given[:, 0])) < 0.03


def test_what_was_assumed_of_the_ground_is_told() -> None:
    found = water(PUNE, WeatherChoice(), "okra", date(2027, 2, 10), on=date(2027, 5, 10), way="raised",
                  watered=False)
    shown = " ".join(render(water_page(found, WORDS)).split())
    assert "a year of rain on it before" in shown
    assert "full 120 days" not in shown


def test_what_only_lies_in_the_ground_makes_no_yield() -> None:
    """Potatoes ripe by September wait there full grown: what they went without by then is what the plan
    takes off, and later rain mends nothing."""
    record = WeatherChoice(packaged="brize_norton")
    told = [water(BRIZE, record, "main-potato", date(2027, 4, 10), on=on, watered=False).left
            for on in (date(2027, 9, 10), date(2027, 9, 25))]
    assert told[0] is not None
    assert told[1] is not None
    assert told[0].short[1] == pytest.approx(told[1].short[1], abs=0.01)
    assert told[0].short[1] > 0.15
