"""Hours told by the day and several days of sowing leave the plan what it was (docs/design/days.md, 5;
season.md, 23). Invented garden, real weather of Dublin Airport."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import parse_date
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Garden
from evenpick.garden.reading import understand
from evenpick.plan.horizon import Horizon
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_limits import week_minutes
from evenpick.service.planning import make_plan

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-03-01
years = 4
SOWN
[[ground]]
name = "bed"
cover = "open"
area = "6 m2"
[[wish]]
item = "radish"
each_week = "3 portions"
HOURS
"""
BY_DAY = '[hours]\ndays = { tuesday = "30 min", saturday = "15 min" }'


def text(sown: str, hours: str) -> str:
    return TEXT.replace("SOWN", sown).replace("HOURS", hours)


def described(hours: str) -> Garden:
    return understand(text("", hours), "garden.toml", Path("nowhere"), load_catalogue())


@pytest.fixture(scope="module")
def plan_of(tmp_path_factory: pytest.TempPathFactory) -> dict[str, PlanAnswer]:
    gardens = {
        "one day": text('sowing_day = "tuesday"', '[hours]\nweek = "45 min"'),
        "several days": text('sowing_day = ["friday", "tuesday"]', BY_DAY),
    }
    made = {}
    for name, said in gardens.items():
        path = tmp_path_factory.mktemp("same") / "garden.toml"
        path.write_text(said, encoding="utf-8")
        made[name] = make_plan(path)
    return made


def test_the_plan_is_the_same_to_the_bit(plan_of: dict[str, PlanAnswer]) -> None:
    """30 and 15 minutes are the week's 45; of Friday and Tuesday the plan reckons with Tuesday."""
    one, several = plan_of["one day"], plan_of["several days"]
    assert one.sowings
    assert {sowing.sow.weekday() for sowing in one.sowings} == {1}
    assert one.hours is not None
    assert max(one.hours.there) == 45 / 60
    same = replace(several, seconds=one.seconds, stages=one.stages,
                   made_from=replace(several.made_from, garden=one.made_from.garden))
    assert same == one


def test_the_hours_of_a_week_are_those_of_its_days() -> None:
    """From Monday 1 March 2027. Nobody from Monday 8 to Thursday 11: Saturday's 15 minutes are left. Half of
    all on Saturday 20: 30 + 7.5. By the week alone the first would leave 3 days of 7."""
    away = """
[[away]]
from = 2027-03-08
until = 2027-03-11
[[away]]
from = 2027-03-20
until = 2027-03-20
hours = "50 %"
"""
    horizon = Horizon(parse_date("2027-03-01"), 1)
    by_day = week_minutes(described(BY_DAY + away), horizon)
    assert by_day is not None
    assert by_day[:4].tolist() == pytest.approx([45.0, 15.0, 37.5, 45.0])
    assert np.all(by_day[4:] == 45.0)
    by_week = week_minutes(described('[hours]\nweek = "45 min"' + away), horizon)
    assert by_week is not None
    assert by_week[:3].tolist() == pytest.approx([45.0, 45.0 * 3 / 7, 45.0 * 6.5 / 7])
