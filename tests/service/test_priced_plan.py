"""A whole plan with prices and boxes that should come to something. Invented garden, real weather of Dublin
Airport. It is held against a single weather year, so that the likely is that year's and is reckoned by hand
from the pickings: what is used is what is wanted less what is bare."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from datetime import date, timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from evenpick.plan.horizon import YEAR_WEEKS
from evenpick.service.box import box
from evenpick.service.plain import plain, read_plain
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import first_day, make_plan, save_plan, saved_plan, task_of
from evenpick.service.setups import garden_of
from evenpick.service.solving import Watch
from evenpick.service.standing import UnderWay

DAY = date(2027, 2, 1)
BARE = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-02-01
years = 1
[[ground]]
name = "beds"
cover = "open"
area = "12 m2"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 4
{promised}
[[outlet]]
name = "stall"
kind = "stall"
[[wish]]
item = "radish"
outlet = "boxes"
each_week = "50 g"
from = "05-01"
until = "09-30"
{radish}
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
outlet = "boxes"
each_week = "150 g"
from = "05-01"
until = "10-15"
{lettuce}
[[wish]]
item = "chard"
outlet = "stall"
each_week = "500 g"
from = "06-01"
until = "10-15"
{chard}
[words]
{money}
"""
NOTHING = dict.fromkeys(("promised", "radish", "lettuce", "chard", "money"), "")
PRICED = {
    "promised": 'weight = "180 g"\nworth = 0.9', "radish": 'price = "4 per kg"',
    "lettuce": 'price = "6 per kg"', "chard": 'price = "2 / kg"', "money": 'money = "€"',
}
PRICES = {"radish": 4.0, "lettuce": 6.0, "chard": 2.0}


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, PlanAnswer]:
    path = tmp_path_factory.mktemp("priced") / "garden.toml"
    path.write_text(BARE.format(**PRICED), encoding="utf-8")
    answer = make_plan(path, DAY, stop=lambda: True)
    save_plan(path, answer)
    return path, answer


def used(answer: PlanAnswer) -> dict[str, list[tuple[date, float]]]:
    """kg by week of the first year; none while nothing can be ripe, which no plan is blamed for."""
    return {item.item: [(week.week, week.wanted - week.bare if at >= item.lead else 0.0)
                        for at, week in enumerate(item.weeks[:YEAR_WEEKS])] for item in answer.pickings}


def test_takings_are_what_is_used_at_its_price(kept: tuple[Path, PlanAnswer]) -> None:
    answer = kept[1]
    kg = {item: sum(of for _, of in weeks) for item, weeks in used(answer).items()}
    boxes, stall, both = answer.takings
    assert boxes.likely == pytest.approx(4 * kg["radish"] + 6 * kg["lettuce"])
    assert stall.likely == pytest.approx(2 * kg["chard"])
    assert both.likely == pytest.approx(boxes.likely + stall.likely)
    assert 0 < boxes.low == pytest.approx(boxes.high)  # of one year
    assert sum(likely for _, likely in boxes.months) == pytest.approx(boxes.likely)
    june = sum(PRICES[item] * of * sum((week + timedelta(days=at)).month == 6 for at in range(7)) / 7
               for item in ("radish", "lettuce") for week, of in used(answer)[item])
    assert dict(boxes.months)[date(2027, 6, 1)] == pytest.approx(june)
    assert answer.money == "€"


def test_weeks_of_light_and_poor_boxes_are_those_of_the_pickings(kept: tuple[Path, PlanAnswer]) -> None:
    """Four boxes; all that is wished for is 200 g, worth 0.05 × 4 + 0.15 × 6 = 1.10. Boxes are packed from
    Saturday 1 May to Friday 15 October: two days of the first week, five of the last."""
    answer = kept[1]
    wanted = {week.week: week.wanted for item in answer.pickings if item.item != "chard"
              for week in item.weeks if week.wanted > 0}
    kg, worth = ({week: 0.0 for week in sorted(wanted) if (week - DAY).days < 7 * YEAR_WEEKS} for _ in "12")
    for item in ("radish", "lettuce"):
        for week, of in used(answer)[item]:
            if week in kg:
                kg[week] += of / 4
                worth[week] += of / 4 * PRICES[item]
    part = dict.fromkeys(kg, 1.0) | {date(2027, 4, 26): 2 / 7, date(2027, 10, 11): 5 / 7}
    light, poor = answer.short_shares
    assert (light.outlet, light.what, light.least) == ("boxes", "weight", pytest.approx(0.18))
    assert light.weeks == tuple(week for week, of in kg.items() if of < 0.18 * part[week] * (1 - 1e-6))
    assert (poor.what, poor.least) == ("worth", 0.9)
    assert poor.weeks == tuple(week for week, of in worth.items() if of < 0.9 * part[week] * (1 - 1e-6))
    assert 0 < len(poor.weeks) < len(worth)
    assert light.wished_less >= 1  # from the first of October lettuce alone is wished for, 150 g


def test_a_kept_plan_is_read_again_and_one_of_before_too(kept: tuple[Path, PlanAnswer]) -> None:
    path, answer = kept
    assert saved_plan(path) == answer
    shape = json.loads(json.dumps(plain(answer)))
    assert read_plain(PlanAnswer, shape) == answer
    for new in ("money", "short_shares", "takings"):
        del shape[new]
    before = read_plain(PlanAnswer, shape)
    assert (before.money, before.short_shares, before.takings) == ("", (), ())
    assert before.pickings == answer.pickings


def test_the_box_of_a_week_weighs_what_is_in_it(kept: tuple[Path, PlanAnswer]) -> None:
    path, answer = kept
    monday = date(2027, 7, 5)
    likely = {item.item: next(min(week.likely, week.wanted) for week in item.weeks if week.week == monday)
              for item in answer.pickings}
    share = box(path, date(2027, 7, 8)).share
    assert (share.outlet, share.least_kg, share.least_worth, share.money) == (
        "boxes", pytest.approx(0.18), 0.9, "€")
    assert share.kg == pytest.approx((likely["radish"] + likely["lettuce"]) / 4)
    assert share.worth == pytest.approx((4 * likely["radish"] + 6 * likely["lettuce"]) / 4)


def task_digest(folder: Path, **said: str) -> str:
    """Of all that the planner is given."""
    path = folder / "garden.toml"
    path.write_text(BARE.format(**{**NOTHING, **said}), encoding="utf-8")
    garden = garden_of(path)
    part = task_of(garden, "", first_day(garden, DAY), UnderWay(), Watch(None, None))
    found = sha256()
    for each in (part.work.request, part.work.unseen, part.work.given):
        _eat(found, each)
    return found.hexdigest()


def _eat(found: Any, value: object) -> None:
    if isinstance(value, np.ndarray):
        found.update(value.tobytes())
    elif is_dataclass(value):
        for field in fields(value):
            _eat(found, getattr(value, field.name))
    elif isinstance(value, tuple):
        for part in value:
            _eat(found, part)
    else:
        found.update(repr(value).encode())


def test_without_prices_the_planner_is_given_what_it_was(tmp_path: Path) -> None:
    """What a share should weigh and the money's sign change nothing; nor do prices at which a portion of one
    item fetches as much as one of another. Other prices do."""
    plainly = task_digest(tmp_path)
    assert task_digest(tmp_path, promised='weight = "1 kg"', money='money = "€"') == plainly
    alike = dict.fromkeys(("radish", "lettuce", "chard"), 'price = "0.50 a portion"')
    assert task_digest(tmp_path, **alike) == plainly
    assert task_digest(tmp_path, **{**alike, "radish": 'price = "0.60 a portion"'}) != plainly
